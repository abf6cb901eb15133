#include "scene/scene.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>

#include "fault/fault.h"
#include "scene/card.h"
#include "scene/markers.h"
#include "scene/on_card.h"
#include "scene/on_ground.h"
#include "scene/outline.h"
#include "scene/pose.h"
#include "scene/view.h"

namespace motley::scene {

namespace {

constexpr double least_alone = 0.035; // Of the picture: a smaller square is a part of the print.
constexpr double least_of_many = 0.006;
constexpr int marker_side = 1024; // Longest side of the picture that markers are looked for in.

/// The markers of the card most of whose markers are seen.
std::vector<Seen> of_one_card(const std::vector<Seen>& all) {
    std::vector<Seen> most;
    for (const CardKind kind : {CardKind::letter, CardKind::a4, CardKind::small}) {
        std::vector<Seen> some;
        for (const Seen& marker : all)
            if (marker.kind == kind) some.push_back(marker);
        if (some.size() > most.size()) most = std::move(some);
    }
    return most;
}

void put_in_order(std::vector<Piece>& pieces) {
    std::vector<Quad> corners;
    for (const Piece& piece : pieces) corners.push_back(piece.corners);
    std::vector<Piece> sorted;
    for (const std::size_t i : reading_order(corners)) sorted.push_back(std::move(pieces[i]));
    pieces = std::move(sorted);
}

Scene look_on_card(const photo::LinearImage& picture, std::string_view where, const Options& options,
                   const std::vector<Seen>& markers) {
    const Card& printed = card(markers.front().kind);
    if (markers.size() < 4)
        throw Fault(
            Cause::input, std::string(where),
            fmt::format("only {} of the card's four corner marks can be seen, so it tells neither size nor "
                        "light",
                        markers.size()),
            "take the photo again with the whole card in view and nothing on its marks");
    const auto pose = pose_of(printed, markers, picture);
    if (!pose)
        throw Fault(Cause::input, std::string(where), "the card in this photo does not lie flat",
                    "lay it on a table, or glue it to cardboard, and take the photo again");
    Scene scene;
    scene.by = By::card;
    scene.pieces = OnCard(printed, *pose, picture).pieces(options);
    put_in_order(scene.pieces);
    if (options.split) return scene;
    if (scene.pieces.empty())
        throw Fault(Cause::input, std::string(where), "the card is in this photo, but no cloth lies on it",
                    printed.field
                        ? "lay the cloth flat inside the frame, with a little of the frame's ground all "
                          "around it"
                        : "lay the small card on the cloth, with cloth on one side of it at least");
    if (scene.pieces.size() > 1)
        throw Fault(Cause::input, std::string(where),
                    fmt::format("{} pieces of cloth lie on the card", scene.pieces.size()),
                    fmt::format("lay one at a time, or say --split {}", scene.pieces.size()));
    return scene;
}

} // namespace

bool worth_a_look(const photo::LinearImage& picture) {
    return dark_squares(picture) >= 3 || anything_lies(picture, least_alone * 0.8);
}

Scene look(const photo::LinearImage& picture, std::string_view where, const Options& options) {
    expects(picture.width >= 16 && picture.height >= 16);
    expects(options.true_inch >= 0.5 && options.true_inch <= 2);
    const int factor = std::max(1, (std::max(picture.width, picture.height) + marker_side - 1) / marker_side);
    const std::vector<Seen> markers = of_one_card(find_markers(picture, thinned(picture, factor), factor));
    // A single one may be a part of a print.
    if (markers.size() >= 2) return look_on_card(picture, where, options, markers);
    Lying lying = on_ground(picture, options.split ? least_of_many : least_alone);
    Scene scene;
    if (!options.split && (lying.pieces.size() != 1 || lying.others > 0 || lying.several > 1)) {
        scene.several = std::max(lying.several, static_cast<int>(lying.pieces.size()));
        return scene;
    }
    scene.by = lying.pieces.empty() ? By::edge_to_edge : lying.by;
    scene.pieces = std::move(lying.pieces);
    put_in_order(scene.pieces);
    return scene;
}

} // namespace motley::scene
