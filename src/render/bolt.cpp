#include "render/bolt.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <utility>

#include "fault/fault.h"
#include "render/chance.h"
#include "render/cloth.h"
#include "render/continued.h"
#include "render/crew.h"
#include "render/in_step.h"

namespace motley::render {

namespace {

/// Widest bolt a photo is unrolled to, in pieces: room for some 25 side by side.
constexpr int most_pieces_wide = 5;

/// What is cut as one, around all of its shapes; pixels of the cloth, margins included.
struct Piece {
    bool used = false;
    palette::FabricId fabric{};
    double left = 1e300, top = 1e300, right = -1e300, bottom = -1e300;

    int width() const { return static_cast<int>(std::ceil(right - left - 1e-6)); }
    int height() const { return static_cast<int>(std::ceil(bottom - top - 1e-6)); }
};

/// From pixels of the top to pixels of the cloth, the piece's own corner at (0, 0).
unit::Motion to_cloth(const Draft& draft, std::size_t shape) {
    unit::Motion motion = draft.shapes()[shape].to_cloth;
    motion.x *= draft.scale().ppi;
    motion.y *= draft.scale().ppi;
    return motion;
}

std::vector<Piece> pieces_of(const Draft& draft, int margin) {
    std::vector<Piece> pieces(static_cast<std::size_t>(draft.pieces()));
    for (std::size_t s = 0; s < draft.shapes().size(); ++s) {
        const layout::Shape& shape = draft.shapes()[s];
        Piece& piece = pieces[static_cast<std::size_t>(shape.piece)];
        expects(!piece.used || piece.fabric == shape.fabric);
        piece.used = true;
        piece.fabric = shape.fabric;
        const unit::Motion motion = to_cloth(draft, s);
        for (const unit::Point corner : shape.outline) {
            const unit::Point at = motion(corner * draft.scale().ppi);
            piece.left = std::min(piece.left, at.x - margin);
            piece.top = std::min(piece.top, at.y - margin);
            piece.right = std::max(piece.right, at.x + margin);
            piece.bottom = std::max(piece.bottom, at.y + margin);
        }
    }
    return pieces;
}

/// What a top asks of a fabric.
struct Use {
    int pieces = 0;
    int width = 0, height = 0; ///< Of the largest.
    double cover = 0;          ///< How many of the largest all cover together.

    int side() const { return std::max(width, height); }
};

std::vector<Use> uses(const Draft& draft, int margin) {
    std::vector<Use> all(draft.layout().fabrics.size());
    const std::vector<Piece> pieces = pieces_of(draft, margin);
    for (const Piece& piece : pieces) {
        if (!piece.used) continue;
        Use& use = all[palette::index(piece.fabric)];
        ++use.pieces;
        use.width = std::max(use.width, piece.width());
        use.height = std::max(use.height, piece.height());
    }
    for (const layout::Shape& shape : draft.shapes()) {
        Use& use = all[palette::index(shape.fabric)];
        const double pixels = unit::area(shape.outline) * draft.scale().ppi * draft.scale().ppi;
        use.cover += pixels / (static_cast<double>(use.width) * use.height);
    }
    return all;
}

/// Whether cloth has room enough for the pieces, each a fifth of a piece away from the next.
bool roomy(int width, int height, const Use& use) {
    if (width < use.width || height < use.height) return false;
    if (use.pieces <= 1) return true;
    const double places =
        ((width - use.width) / (use.width / 5.0) + 1) * ((height - use.height) / (use.height / 5.0) + 1);
    return places >= std::min(use.pieces, 16);
}

/// How much wider and higher than its largest piece a bolt of solid is.
int solid_room(const Use& use) {
    if (use.pieces <= 1) return 0;
    const double wide = std::clamp(0.4 + 0.6 * std::sqrt(use.cover), 4.0 / 3.0, 3.4);
    const int own = static_cast<int>(std::ceil(std::sqrt(use.pieces))); // A place of its own for each.
    return std::max(static_cast<int>(std::min(use.width, use.height) * (wide - 1)), own);
}

/// The bolt of fewest whole copies of a photo that has room enough; beyond one copy more than a piece needs,
/// places would only come again.
photo::LinearImage lengthened(const photo::LinearImage& cloth, const palette::Fabric& fabric, double ppi,
                              const Use& use) {
    const std::optional<Repeat> measured = fabric.colour && fabric.colour->print
                                               ? repeat_in_step(cloth, *fabric.colour->print, ppi)
                                               : std::nullopt;
    const Repeat repeat = measured ? *measured : repeat_of(cloth);
    const int step_x = repeat.across.x, step_y = repeat.down.y;
    int width = cloth.width, height = cloth.height;
    while (width < use.width) width += step_x;
    while (height < use.height) height += step_y;
    const int most_width = use.width + step_x, most_height = use.height + step_y;
    while (!roomy(width, height, use) && (width < most_width || height < most_height)) {
        if (height >= most_height || (width < most_width && width - use.width <= height - use.height))
            width += step_x;
        else
            height += step_y;
    }
    return continued(cloth, repeat, std::min(width, most_width), std::min(height, most_height));
}

photo::LinearImage unroll_one(const palette::Fabric& fabric, const Cloth& cloth, double ppi, const Use& use,
                              std::uint64_t seed) {
    photo::LinearImage photographed = scaled_cloth(cloth, ppi, most_pieces_wide * use.side());
    if (photographed.width == 0) {
        const colour::LinearRgb colour =
            cloth.picture.width > 0 ? mean(cloth.picture) : colour::linear(fabric.colour->lab);
        const int room = solid_room(use);
        return solid_cloth(colour, ppi, use.width + room, use.height + room, seed);
    }
    if (roomy(photographed.width, photographed.height, use)) return photographed;
    return lengthened(photographed, fabric, ppi, use);
}

/// Shifts a motion so that middles of pixels come to lie on middles of pixels.
void snap(unit::Motion& motion) {
    const unit::Point middle = motion(unit::Point{0.5, 0.5});
    motion.x += std::floor(middle.x) + 0.5 - middle.x;
    motion.y += std::floor(middle.y) + 0.5 - middle.y;
}

} // namespace

bool on_grain(const unit::Motion& motion) {
    return std::min(std::abs(motion.xx), std::abs(motion.xy)) < 1e-9;
}

std::vector<Place> spread_places(int count, int free_x, int free_y, std::uint64_t seed) {
    expects(count >= 0 && free_x >= 0 && free_y >= 0);
    constexpr double plastic = 1.32471795724474602596;
    const std::int64_t places = (static_cast<std::int64_t>(free_x) + 1) * (free_y + 1);
    double u = static_cast<double>(share(scrambled(seed, 11))),
           v = static_cast<double>(share(scrambled(seed, 12)));
    std::set<std::pair<int, int>> taken;
    std::vector<Place> found;
    while (static_cast<int>(found.size()) < count) {
        if (static_cast<std::int64_t>(taken.size()) == places) taken.clear();
        u += 1 / plastic;
        v += 1 / (plastic * plastic);
        u -= std::floor(u);
        v -= std::floor(v);
        Place place{static_cast<int>(u * (free_x + 1)), static_cast<int>(v * (free_y + 1))};
        while (!taken.emplace(place.x, place.y).second) { // Taken: the next free one, row by row.
            place.x = place.x == free_x ? 0 : place.x + 1;
            if (place.x == 0) place.y = place.y == free_y ? 0 : place.y + 1;
        }
        found.push_back(place);
    }
    return found;
}

Bolts unroll(std::span<const Draft> drafts, const std::vector<Cloth>& cloths, int margin, int threads) {
    expects(!drafts.empty() && margin >= 0);
    const layout::Layout& first = drafts.front().layout();
    const double ppi = drafts.front().scale().ppi;
    expects(cloths.size() == first.fabrics.size());
    std::vector<Use> most(first.fabrics.size());
    for (const Draft& draft : drafts) {
        expects(draft.layout().fabrics.size() == most.size() && draft.scale() == drafts.front().scale());
        const std::vector<Use> used = uses(draft, margin);
        for (std::size_t f = 0; f < used.size(); ++f)
            most[f] = {std::max(most[f].pieces, used[f].pieces), std::max(most[f].width, used[f].width),
                       std::max(most[f].height, used[f].height), std::max(most[f].cover, used[f].cover)};
    }
    Bolts bolts{std::vector<photo::LinearImage>(most.size()), margin};
    share_out(threads, static_cast<int>(most.size()), [&](int i) {
        const auto f = static_cast<std::size_t>(i);
        if (most[f].pieces == 0) return;
        const std::uint64_t seed = scrambled(first.seed, first.fabrics[f].id);
        bolts.cloth[f] = unroll_one(first.fabrics[f], cloths[f], ppi, most[f], seed);
    });
    return bolts;
}

std::vector<unit::Motion> cut_out(const Draft& draft, const Bolts& bolts) {
    const std::vector<Piece> pieces = pieces_of(draft, bolts.margin);
    using Alike = std::tuple<palette::FabricId, int, int>; // Pieces of one fabric and size.
    std::map<Alike, std::vector<std::size_t>> alike;
    for (std::size_t p = 0; p < pieces.size(); ++p)
        if (pieces[p].used) alike[{pieces[p].fabric, pieces[p].width(), pieces[p].height()}].push_back(p);
    std::vector<unit::Point> shift(pieces.size());
    for (const auto& [key, members] : alike) {
        const auto& [fabric, width, height] = key;
        const photo::LinearImage& cloth = bolts.cloth[palette::index(fabric)];
        const palette::Fabric& named = draft.layout().fabrics[palette::index(fabric)];
        const std::uint64_t size =
            static_cast<std::uint64_t>(width) << 32 | static_cast<std::uint64_t>(height);
        const std::uint64_t seed = scrambled(scrambled(draft.layout().seed, named.id), size);
        const std::vector<Place> places =
            spread_places(static_cast<int>(members.size()), cloth.width - width, cloth.height - height, seed);
        for (std::size_t k = 0; k < members.size(); ++k) {
            const Piece& piece = pieces[members[k]];
            shift[members[k]] = {places[k].x - piece.left, places[k].y - piece.top};
        }
    }
    std::vector<unit::Motion> motions;
    for (std::size_t s = 0; s < draft.shapes().size(); ++s) {
        const unit::Point by = shift[static_cast<std::size_t>(draft.shapes()[s].piece)];
        unit::Motion motion = to_cloth(draft, s);
        motion.x += by.x;
        motion.y += by.y;
        if (on_grain(motion)) snap(motion);
        motions.push_back(motion);
    }
    return motions;
}

} // namespace motley::render
