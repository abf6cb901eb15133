#pragma once
/// The fabrics on hand: colours, print scale, stock, and their file (`palette.json`).
/// In: a folder of photos, a folder with palette.json, or a JSON file. Out: the fabrics as said; the photos
/// are not opened here.

#include <cstddef>
#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "colour/space.h"
#include "colour/value.h"
#include "document/document.h"
#include "measure/length.h"
#include "palette/print.h"

namespace motley::palette {

/// Index into Palette::fabrics.
enum class FabricId : std::uint16_t {};
constexpr std::size_t index(FabricId id) {
    return static_cast<std::size_t>(id);
}

/// Most fabrics one palette may hold.
inline constexpr std::size_t most_fabrics = 4096;
/// Most dominant colours kept of a print.
inline constexpr std::size_t most_accents = 6;
inline constexpr std::string_view palette_format = "motley palette 1";
inline constexpr std::string_view palette_file = "palette.json";
/// A photo with numbered outlines, left there when several fabrics were cut out of it: no fabric itself.
inline constexpr std::string_view overview_file = "split.png";
/// How much cloth a photo shows from left to right when nobody said: 5 in.
inline constexpr measure::Length usual_photo_width{5 * measure::Length::per_inch};

/// A colour that stands out in a print, with the share of the cloth it covers, (0, 1].
struct Accent {
    colour::Srgb srgb;
    double share = 0;
};

/// How a colour was got from its photo.
struct PhotoReading {
    /// What told the cloth from what it lies on, and what its light was evened by: the printed card, white
    /// paper, nothing (only its outline was found), or nothing at all: the photo is cloth from edge to edge.
    enum class By : std::uint8_t { card, paper, background, edge_to_edge };
    By by = By::edge_to_edge;
    double confidence = 0;      ///< [0, 1]; steps of 0.01.
    double pixels_per_inch = 0; ///< Of the cloth as it was cut out; 0 when nothing told the scale.
    bool cut_out = false;       ///< The photo was cut from a larger one: nothing is to be found in it again.
    std::vector<std::string> warnings; ///< What is wrong with the photo, for people.
    bool operator==(const PhotoReading&) const = default;
};

/// The colour of a fabric, as measured or as typed.
/// Rounded when made (`rounded`), so that a value read back from a file equals the one in memory.
struct FabricColour {
    enum class From : std::uint8_t { typed, photo };
    colour::Srgb srgb;                  ///< For drawing.
    colour::Lab lab;                    ///< For judging, D65; steps of 0.0001.
    std::optional<colour::Value> value; ///< Relative to the set; see Fabric::value_said.
    From from = From::typed;
    std::vector<Accent> accents; ///< Dominant colours, largest share first, at most six; empty when typed.
    std::optional<Print> print;  ///< Absent when typed, or measured before prints were looked at.
    double busy = 0;             ///< 0 a solid .. 1 the busiest print; steps of 0.0001.
    std::string photo_hash; ///< document::content_hash of the photo it was measured from; empty when typed.
    std::optional<PhotoReading> reading; ///< Absent when typed, or measured before it was noted.
};

/// To the steps of the file: Lab, shares and busyness to 0.0001, the print as `rounded` there, no negative
/// zero.
FabricColour rounded(FabricColour colour);

FabricColour typed_colour(colour::Srgb srgb); ///< Lab follows from sRGB.
FabricColour typed_colour(colour::Lab lab);   ///< sRGB is the nearest in gamut, channel by channel.

/// Cloth on the shelf: `count` pieces of one size. Strips are cut across the cloth: `length` is what lies
/// across it, `width` the narrow way. For all others `width` lies across the cloth and `length` along it.
struct StockPiece {
    enum class Piece : std::uint8_t { strip, square, scrap, fat_quarter, yardage };
    Piece piece = Piece::yardage;
    measure::Length width;  ///< Of one piece, never zero.
    measure::Length length; ///< Of one piece, never zero.
    int count = 1;          ///< At least 1.
};

struct Fabric {
    std::string id;    ///< Unique in the palette; 1 to 64 bytes of UTF-8, no control characters, no '*'.
    std::string name;  ///< As said to people; the id when not given.
    std::string photo; ///< Path inside the palette's folder, normal form, '/' between parts; empty when
                       ///< there is none.
    measure::Length photo_width = usual_photo_width; ///< 1/4 in to 120 in.
    std::vector<StockPiece> stock;
    bool one_way = false;        ///< The print has an up and a down: its pieces are never cut turned.
    bool one_way_said = false;   ///< The user said so, or said that it has not.
    std::optional<double> price; ///< Of a yard, or a metre where the plan is metric; over the plan's own.
    std::optional<FabricColour> colour; ///< Absent until measured when there is a photo.
    std::optional<colour::Value>
        value_said; ///< The user's word, over any measured value ("value" on the fabric itself).
};

struct Palette {
    std::string name;             ///< The folder's when not given.
    std::filesystem::path folder; ///< Where the photos are.
    measure::System measure = measure::System::inch;
    std::vector<Fabric>
        fabrics; ///< In file order; from a bare folder, in the order of the file names, byte by byte.
    std::vector<std::string> unlisted; ///< Photos in the folder that palette.json does not mention.
};

/// Reads a palette: a folder with palette.json, a folder of photos alone (ids are the file stems), or the
/// path of a JSON file. In a folder with palette.json, photos that it does not mention are left alone. Faults
/// name file and pointer, all fabrics' in one: unknown keys, a duplicate id, neither photo nor colour, a
/// photo outside the folder, no fabric at all, more than `most_fabrics`. The photos themselves are not
/// opened.
Palette read_palette(const std::filesystem::path& path);

/// The fabrics out of a JSON list, as they stand in palette.json and in layout.json. Same faults; an empty
/// list gives none.
std::vector<Fabric> read_fabrics(const document::Node& list, measure::System measure);

/// The palette as the JSON of palette.json. read after write gives the same palette.
document::Json write_palette(const Palette& palette);
/// Without `readings` what PhotoReading holds is left out: it belongs to the palette, not to a layout.
document::Json write_fabrics(const std::vector<Fabric>& fabrics, measure::System measure,
                             bool readings = true);

/// A number in the file's measure or a text such as "6 1/2", within [least, most].
measure::Length read_length(const document::Node& node, measure::System measure, measure::Length least,
                            measure::Length most = measure::longest);

/// Why a text is no fabric id, or empty when it is one.
std::string trouble_with_id(std::string_view id);

} // namespace motley::palette
