#pragma once
/// What the benchmark program measures: one function for each name it takes.
/// In: options as given, `--key value`. Out: one JSON object on one line, with our figure, a peer's or a
/// floor's from the same run, and their ratio.

#include <map>
#include <string>

namespace motley::bench {

using Options = std::map<std::string, std::string>; ///< Keys without the dashes.

/// The number under `key`, or `otherwise` when it is not given. Throws std::invalid_argument when it is not a
/// whole number, or not within [least, most].
long integer(const Options& options, const std::string& key, long otherwise, long least, long most);

/// A 12-megapixel 4:2:0 JPEG read to its exact linear mean and a reduced picture, against libjpeg-turbo
/// decoding it row by row into one row buffer. Options: width (4000), height (3000), detail (1024), rounds
/// (7).
std::string photo(const Options& options);

/// An even scatter of invented fabrics, against the best of 200 shuffles of the same pieces. Options: columns
/// (11), rows (13), fabrics (30), colours (1: which are invented), touching (corner), spread (1), colour (0),
/// value (1), seed (1), seconds or moves, restarts (1), threads (1), model (a folder to write the same top to
/// as a model for other solvers; tests/bench/solvers.sh).
std::string scatter(const Options& options);

/// The grey-pattern problem: M black cells on a torus, the sum over ordered pairs of 100000 / d^2 (rounded,
/// halves to even) least; against a proved floor. `cells` are row * columns + column, counted from 0, rising;
/// `seconds` is when they were found. Options: columns, rows, black (all three needed), seed (1), seconds, or
/// moves (as many give the same cells again). A floor that is reached ends the search.
std::string grey(const Options& options);

/// A straight top of invented fabrics drawn as a preview, and as a flat map, against reading as many pixels
/// of cloth once and writing them as sRGB on as many threads. Options: columns (20), rows (24), recipe
/// (strip-set-triangle), fabrics (30), side (4000: pixels of the longest side), threads (2), rounds (5), seed
/// (1).
std::string draw(const Options& options);

/// Tops with counts at their limits, and tops planted from a layout that exists, some of it pinned: seconds
/// until every rule is kept, over as many seeds, against half a second. One line for each kind of top.
/// Options: seeds (10), limit (2: seconds after which a top counts as missed), only (a part of the names of
/// the tops to run: "corner, 5 fabrics").
std::string tight(const Options& options);

/// Cutting plans for the ten invented lists of tests/data/cuts, against cutting every kind of piece from
/// strips of its own. One line for each list and one for all, where `proved` counts. Options: rounds (1).
std::string cut(const Options& options);

/// Cloth found in photos as they are taken, against the scenes' own truth: on the card (sizes, colours),
/// under a tone curve, through a bent lens, on white paper, twelve in one photo; and 12 megapixels with the
/// card against decoding them. One line for each. Options: scenes (20), seed (1).
std::string scene(const Options& options);

/// `motley make` on invented photos as a phone makes them, in a process of its own, against decoding the same
/// photos on as many threads and nothing else. Options: photos (30), width (4000, of 4:3), threads (2),
/// rounds (3), seed (1), folder (where the photos are kept between runs).
std::string make(const Options& options);

} // namespace motley::bench
