/// Cloth found in photos as they are taken, on scenes with known truth.

#include <fmt/format.h>

#include <algorithm>
#include <ctime>
#include <vector>

#include "bench.h"
#include "fault/fault.h"
#include "scene/staged.h"

namespace motley::bench {

namespace {

double at_share(std::vector<double> numbers, double share) {
    if (numbers.empty()) return -1;
    std::sort(numbers.begin(), numbers.end());
    return numbers[static_cast<std::size_t>(share * static_cast<double>(numbers.size() - 1))];
}

double mean(const std::vector<double>& numbers) {
    double sum = 0;
    for (const double number : numbers) sum += number;
    return numbers.empty() ? -1 : sum / static_cast<double>(numbers.size());
}

double processor_seconds() {
    return static_cast<double>(std::clock()) / CLOCKS_PER_SEC;
}

/// What came of so many scenes.
struct Tally {
    long scenes = 0, found = 0, invented = 0;
    std::vector<double> sides, colours, as_it_is,
        overlaps; ///< Shares off, CIEDE2000, the same without evening.
    double seconds = 0;
};

void add_one(Tally& tally, const staged::OnCard& staged, bool sized) {
    const photo::LinearImage picture = staged::taken(staged.table, staged.view);
    ++tally.scenes;
    const double start = processor_seconds();
    scene::Scene scene;
    try {
        scene = scene::look(picture, "scene.jpg");
    } catch (const Fault&) {
        return;
    }
    tally.seconds += processor_seconds() - start;
    if (scene.pieces.size() != 1) return;
    ++tally.found;
    const scene::Piece& piece = scene.pieces.front();
    const colour::LinearRgb truth = staged::mean(staged.piece.picture);
    tally.colours.push_back(staged::difference(piece.mean, truth));
    tally.overlaps.push_back(scene::overlap(piece.corners, staged::quad_of(staged.piece, staged.view)));
    if (!sized) return;
    double width = staged.piece.width, height = staged.piece.height;
    if (std::abs(piece.width - width) > std::abs(piece.width - height)) std::swap(width, height);
    tally.sides.push_back(100 * std::abs(piece.width / width - 1));
    tally.sides.push_back(100 * std::abs(piece.height / height - 1));
}

std::string line(const std::string& what, const Tally& tally, double colour_aim) {
    return fmt::format(
        R"({{"bench": "scene", "what": "{}", "scenes": {}, "found": {}, "side_mean_percent": {:.3f}, )"
        R"("side_worst_percent": {:.3f}, "colour_median": {:.2f}, "colour_90": {:.2f}, "colour_aim": {}, )"
        R"("overlap_mean": {:.4f}, "look_seconds": {:.3f}}})",
        what, tally.scenes, tally.found, mean(tally.sides), at_share(tally.sides, 1),
        at_share(tally.colours, 0.5), at_share(tally.colours, 0.9), colour_aim, mean(tally.overlaps),
        tally.seconds / static_cast<double>(std::max(1L, tally.found)));
}

std::string twelve(long scenes, std::uint64_t seed, double tilt, int near_white) {
    long whole = 0, found = 0, invented = 0, least = 12;
    std::vector<double> overlaps;
    for (long i = 0; i < scenes; ++i) {
        const staged::Twelve staged =
            staged::twelve(seed + static_cast<std::uint64_t>(i), tilt, true, near_white);
        const scene::Scene scene = scene::look(staged::taken(staged.table, staged.view), "scene.jpg",
                                               {.split = true, .true_inch = 1});
        long hits = 0;
        for (const painter::Laid& laid : staged.pieces) {
            double best = 0;
            for (const scene::Piece& piece : scene.pieces)
                best = std::max(best, scene::overlap(piece.corners, staged::quad_of(laid, staged.view)));
            if (best < 0.8) continue;
            ++hits;
            overlaps.push_back(best);
        }
        found += hits;
        whole += hits == 12 && scene.pieces.size() == 12 ? 1 : 0;
        least = std::min(least, hits);
        invented += static_cast<long>(scene.pieces.size()) - hits;
    }
    return fmt::format(R"({{"bench": "scene", "what": "twelve, tilt {:.0f}, near white {}", "scenes": {}, )"
                       R"("all_twelve": {}, "pieces_found": {}, "of": {}, "least": {}, "invented": {}, )"
                       R"("overlap_mean": {:.4f}}})",
                       tilt * 57.29578, near_white, scenes, whole, found, 12 * scenes, least, invented,
                       mean(overlaps));
}

/// From 12 megapixels with the card to its cloth, against decoding alone.
std::string speed(std::uint64_t seed) {
    staged::OnCard staged = staged::on_card(seed, 0.3);
    staged.view.width = 3000;
    staged.view.height = 4000;
    staged.view.pixels_per_inch *= 2;
    const auto file = painter::encode_jpeg(painter::photograph(staged.table, staged.view), 90);
    double start = processor_seconds();
    photo::read(file, "scene.jpg", 370);
    const double decode = processor_seconds() - start;
    start = processor_seconds();
    const photo::LinearImage small = photo::read(file, "scene.jpg", 370).picture;
    const bool worth = scene::worth_a_look(small);
    const std::size_t pieces =
        scene::look(photo::read(file, "scene.jpg", scene::looking_detail).picture, "scene.jpg").pieces.size();
    const double whole = processor_seconds() - start;
    return fmt::format(R"({{"bench": "scene", "what": "12 megapixels", "worth_a_look": {}, "pieces": {}, )"
                       R"("whole_seconds": {:.3f}, "decode_seconds": {:.3f}, "ratio": {:.2f}, "aim": 4}})",
                       worth, pieces, whole, decode, whole / decode);
}

} // namespace

std::string scene(const Options& options) {
    const long scenes = integer(options, "scenes", 20, 1, 1000);
    const auto seed = static_cast<std::uint64_t>(integer(options, "seed", 1, 0, 1'000'000));
    Tally card, curve, lens, paper;
    for (long i = 0; i < scenes; ++i) {
        const std::uint64_t one = seed + static_cast<std::uint64_t>(i);
        add_one(card, staged::on_card(one, 0.698), true);
        add_one(curve, staged::on_card(one + 500, 0.5, 0, 0.6), true);
        add_one(lens, staged::on_card(one + 900, 0.5, i % 2 == 0 ? -0.05 : 0.04), true);
        add_one(paper, staged::on_paper(one, 0.5, i % 2 == 0), false);
    }
    return line("card, tilt to 40 degrees", card, 1.3) + "\n" + line("card, tone curve", curve, 1.3) + "\n" +
           line("card, bent lens", lens, 1.3) + "\n" + line("white paper", paper, 0.6) + "\n" +
           twelve(scenes / 2 + 1, seed, 0, 0) + "\n" + twelve(scenes / 4 + 1, seed, 0.349, 0) + "\n" +
           twelve(scenes / 4 + 1, seed, 0, 4) + "\n" + speed(seed);
}

} // namespace motley::bench
