#pragma once
/// The steps chained as the user asks: read, measure, place, draw, count, write. The only code that knows
/// them all and touches paths. In: requests, as the command line (or a page) puts them. Out: results to be
/// told; files appear whole or not at all, all of them at the end. Faults as in fault.h; a request that fails
/// leaves every file as it was.

#include <cstdint>
#include <filesystem>
#include <functional>
#include <optional>
#include <stop_token>
#include <string>
#include <vector>

#include "layout/layout.h"
#include "palette/palette.h"
#include "pipeline/lists.h"
#include "placement/placement.h"

namespace motley::pipeline {

/// "0.1.0"
std::string version();

/// What every request may carry.
struct Common {
    int threads = 0;                        ///< 0: as many as the machine has cores.
    std::int64_t most_pixels = 100'000'000; ///< Largest photo opened.
    int picture_side = 1600;                ///< Longest side of the top in the pictures, pixels, [64, 20000].
    std::function<void(std::string_view step, double share)> progress; ///< Called from one thread at a time.
    std::stop_token stop;
};

struct PlaceRequest {
    std::filesystem::path plan;
    std::optional<std::uint64_t> seed; ///< Over the plan's own.
    int candidates = 1;                ///< [1, 60]
    std::optional<double> seconds;     ///< Search this long instead of a fixed number of moves.
    Common common;
    /// The top as the search stands, now and then; see placement::Effort. Borders and cornerstones come
    /// later.
    std::function<void(const layout::Assignment&)> shown{};
};

struct Placed {
    std::vector<layout::Layout> layouts; ///< Best first; one, or as many candidates as differ visibly.
    std::vector<std::string> remarks;    ///< What the user should know although nothing failed.
};

/// Only the layout; nothing is written. Fault (Cause::unmet) when no layout keeps every rule, with the reason
/// where one is proved.
Placed place(const PlaceRequest& request);

struct Made {
    Placed placed;
    std::filesystem::path folder;
    std::vector<std::string> files; ///< In `folder`.
    std::optional<Lists> lists;     ///< Of the best, when they were asked for.
};

/// The whole job into `folder` (renders/<plan's stem> when empty).
Made make(const PlaceRequest& request, std::filesystem::path folder = {});

/// `place`, with the layout written to `file`.
Placed place_into(const PlaceRequest& request, const std::filesystem::path& file);

/// What a plan asks for, as far as it can be judged without searching: empty when nothing speaks against it.
/// Faults when the plan is not readable.
std::vector<Problem> check(const std::filesystem::path& plan, const Common& common);

/// So many patches of a fabric are missing.
struct Shortage {
    std::string fabric; ///< Id, or name.
    int patches = 0;
};

struct MendRequest {
    std::filesystem::path layout;
    std::vector<Shortage> shortages;
    Common common;
};

struct Mended {
    /// What one unit showed and shows now.
    struct Change {
        int row = 0, column = 0;                 ///< From 0.
        std::vector<palette::FabricId> from, to; ///< By patch of the recipe.
        int turn_from = 0, turn_to = 0;
    };

    layout::Layout layout;       ///< Its plan asks for what the shortage leaves, so that it is met.
    std::vector<Change> changes; ///< Row by row.
    int at_least = 0;            ///< No layout that keeps every rule changes fewer units: proved.
};

/// A layout that meets the plan inside it again, moving as few units as possible; pinned and sewn units stay.
/// Fault (Cause::unmet) when there is none, or none was found; Fault (Cause::input) for shortages of unknown
/// fabrics, or larger than the layout's use.
Mended mend(const MendRequest& request);

/// `mend`, with the layout written to `file`.
Mended mend_into(const MendRequest& request, const std::filesystem::path& file);

struct DrawRequest {
    std::filesystem::path layout;
    std::filesystem::path folder; ///< The layout's own when empty.
    std::filesystem::path
        palette; ///< Where the photos are; looked for from the layout's folder upwards when empty.
    Common common;
};

/// Pictures of a stored layout.
Made draw(const DrawRequest& request);

struct Counted {
    layout::Layout layout;
    Lists lists;
    std::vector<std::string> files; ///< Written, when a folder was given.
};

/// Counts, cutting and buying lists of a stored layout, written to `folder` unless that is empty.
Counted count(const std::filesystem::path& layout, const std::filesystem::path& folder);

/// A picture of every step of a recipe, step-01.png and so on; their names.
std::vector<std::string> draw_steps(const unit::Sewn& sewn, const std::filesystem::path& folder);

struct SwatchRequest {
    std::vector<std::filesystem::path> photos;    ///< Photos, or folders of photos.
    std::optional<std::filesystem::path> palette; ///< Keep the measures in this folder's palette.json.
    measure::Length width{
        0};               ///< How wide each fabric in the photos is; 0: as the palette says, or the usual.
    double true_inch = 1; ///< What one printed inch of the card's ruler measures, inches.
    int pieces = 0; ///< So many fabrics lie in the one photo: cut them out into the palette. 0: one a photo.
    std::vector<std::string> names; ///< Of those, in reading order; as many as pieces, or none.
    std::filesystem::path
        overview; ///< Where the photo with numbered outlines goes; in the palette when empty.
    Common common;
};

struct Swatched {
    palette::Palette palette;          ///< The fabrics measured; of a kept palette all of them.
    std::vector<std::string> measured; ///< Ids, in the order asked.
    std::vector<std::string> remarks;
};

/// Measures photos. With a palette: adds or refreshes them there (a photo from elsewhere is copied in) and
/// leaves what else stands in the file alone; a photo that is the same as when it was measured is not
/// measured again. With `pieces`: each is cut out, straightened, named, and written into the palette as a
/// photo of its own, and split.png shows which is which; Fault (Cause::unmet) when another number of them is
/// found.
Swatched swatch(const SwatchRequest& request);

enum class CardPaper : std::uint8_t { letter, a4 };

/// The printable reference card, a PDF, written to `file`. `small`: the one to be laid on large pieces.
void print_card(const std::filesystem::path& file, CardPaper paper, bool small);

} // namespace motley::pipeline
