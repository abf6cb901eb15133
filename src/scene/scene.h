#pragma once
/// Finds flat pieces of cloth in a photo as it was taken: on the printed card, on white paper, on a table, or
/// from edge to edge; straightens them, evens the light, says how sure it is.
///
/// In: a picture in linear light. Out: for each piece a straight picture of its clean inside, its colour, its
/// size where that is known, and what is wrong with the photo in a quilter's words.
///
/// Words: a *piece* is one flat bit of cloth with four straight sides; the *ground* is what it lies on.
///
/// Units: pixels of the picture given, from its top left corner; inches. Threads: no state is shared.
/// Everything that is recorded (resampling, means, fits) is plain double arithmetic: the same picture gives
/// the same bytes. No outside library is used.
///
/// Careful by design: a picture that may be cloth from edge to edge is taken for that, and nothing in it is
/// touched.

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "colour/space.h"
#include "photo/photo.h"
#include "scene/plane.h"

namespace motley::scene {

/// By what a piece was told from its surroundings, and its colour and size with it.
enum class By : std::uint8_t {
    card,         ///< Light, tone curve and scale from the card.
    paper,        ///< Light from white paper around or beside it.
    background,   ///< Found on its ground; colour as the photo has it.
    edge_to_edge, ///< The whole photo, as it is.
};

struct Options {
    bool split = false;   ///< Several pieces are expected: all that are there are returned.
    double true_inch = 1; ///< Of the card: what one printed inch of its ruler measures, inches, [0.5, 2].
};

/// Longest side of the picture that `look` does best with, pixels.
inline constexpr int looking_detail = 2048;

struct Piece {
    Quad corners;               ///< Of the whole piece, in the picture.
    photo::LinearImage picture; ///< Its clean inside, straight.
    colour::LinearRgb mean;     ///< Of that, without what lies in a shadow or a fold.
    double width = 0;           ///< Of the whole piece, inches; 0 when nothing tells the scale.
    double height = 0;
    double kept = 1;            ///< Width of `picture` against the whole piece's, (0, 1].
    double pixels_per_inch = 0; ///< Of `picture`; 0 when nothing tells the scale.
    double confidence = 0;      ///< [0, 1]
    std::vector<std::string> warnings;
};

struct Scene {
    By by = By::edge_to_edge;
    std::vector<Piece> pieces; ///< In reading order; none when the photo is cloth from edge to edge.
    int several = 0; ///< Where one was asked for and none returned: so many squares stand out on a plain
                     ///< ground, which may be pieces or the print itself.
};

/// Whether a small picture (370 pixels are enough) shows anything but cloth: if not, the photo is edge to
/// edge and `look` need not be asked.
bool worth_a_look(const photo::LinearImage& picture);

/// The pieces in the picture. Without `split` one, or none: then the photo is edge to edge. Faults
/// (Cause::input, `where`): a card of which only a part can be seen; a card without cloth on it, or with
/// several pieces where one was asked for.
Scene look(const photo::LinearImage& picture, std::string_view where, const Options& options = {});

/// What is wrong with a photo that is cloth from edge to edge.
std::vector<std::string> blemishes(const photo::LinearImage& picture);

} // namespace motley::scene
