#pragma once
/// The fabrics on hand: colours, print scale, stock, and their file (`palette.json`).

#include <cstddef>
#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "colour/space.h"
#include "colour/value.h"
#include "document/document.h"
#include "measure/length.h"

namespace motley::palette {

/// Index into Palette::fabrics.
enum class FabricId : std::uint16_t {};
constexpr std::size_t index(FabricId id) { return static_cast<std::size_t>(id); }

/// Most fabrics one palette may hold.
inline constexpr std::size_t most_fabrics = 4096;

/// A colour that stands out in a print, with the share of the cloth it covers, (0, 1].
struct Accent {
    colour::Srgb srgb;
    double share = 0;
};

/// The colour of a fabric, as measured or as typed.
/// Rounded when made (`rounded`), so that a value read back from a file equals the one in memory.
struct FabricColour {
    enum class From : std::uint8_t { typed, photo };
    colour::Srgb srgb;
    colour::Lab lab;                 ///< Steps of 0.0001.
    std::optional<colour::Value> value; ///< Relative to the set. With From::typed the user's own word.
    From from = From::typed;
    std::vector<Accent> accents;     ///< Dominant colours, largest share first, at most six; empty when typed.
    double busy = 0;                 ///< 0 a solid .. 1 the busiest print; steps of 0.0001.
    std::string photo_hash;          ///< document::content_hash of the photo it was measured from; empty when typed.
};

/// A colour from its Lab, with the rounding of the file. `srgb` is the nearest in gamut.
FabricColour typed_colour(colour::Srgb srgb);

/// Cloth on the shelf. `count` pieces of `width` across the cloth by `length` along it.
struct StockPiece {
    enum class Piece : std::uint8_t { strip, square, scrap, fat_quarter, yardage };
    Piece piece = Piece::yardage;
    measure::Length width;  ///< Of one piece.
    measure::Length length; ///< Of one piece.
    int count = 1;
};

struct Fabric {
    std::string id;    ///< Unique in the palette.
    std::string name;  ///< As said to people; the id when not given.
    std::string photo; ///< File name relative to the palette's folder; empty when there is none.
    measure::Length photo_width; ///< How much cloth the photo shows from left to right; 5 in when not said.
    std::vector<StockPiece> stock;
    std::optional<FabricColour> colour; ///< Absent until measured when there is a photo.
    std::optional<colour::Value> value_said; ///< The user's word, over any measured value ("value" on the fabric itself).
};

struct Palette {
    std::string name;
    std::filesystem::path folder; ///< Where the photos are.
    measure::System measure = measure::System::inch;
    std::vector<Fabric> fabrics;  ///< In file order; from a bare folder, in the order of the file names.
};

/// Reads a palette: a folder with palette.json, a folder of photos alone (ids are the file stems), or the path of a JSON file.
/// Faults name file and pointer: unknown keys, a duplicate id, neither photo nor colour, a photo outside the folder, no fabric at all.
/// The photos themselves are not opened.
Palette read_palette(const std::filesystem::path& path);

/// The fabrics out of a JSON list, as they stand in palette.json and in layout.json.
std::vector<Fabric> read_fabrics(const document::Node& list, measure::System measure);

/// The palette as the JSON of palette.json. read after write gives the same palette.
document::Json write_palette(const Palette& palette);
document::Json write_fabrics(const std::vector<Fabric>& fabrics, measure::System measure);

} // namespace motley::palette
