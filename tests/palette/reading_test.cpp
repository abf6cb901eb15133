#include <catch.hpp>

#include "document/temporary_folder.h"
#include "fault/fault.h"
#include "palette/palette.h"

using namespace motley;
using namespace motley::palette;

namespace {

Palette with_reading(const std::string& reading) {
    const TemporaryFolder folder;
    folder.put("palette.json",
               R"({"fabrics": [{"id": "plum", "photo": "plum.jpg", "colour": {"srgb": [118, 42, 71],
        "from": "photo", "photo_hash": "0123456789abcdef", "reading": )" +
                   reading + "}}]}");
    return read_palette(folder.path());
}

} // namespace

TEST_CASE("how a colour was read is kept with it in the palette, and left out of layouts") {
    const Palette palette = with_reading(
        R"({"by": "card", "confidence": 0.94, "pixels_per_inch": 99.19, "warnings": ["blurred: hold still"]})");
    const PhotoReading expected{.by = PhotoReading::By::card,
                                .confidence = 0.94,
                                .pixels_per_inch = 99.19,
                                .cut_out = false,
                                .warnings = {"blurred: hold still"}};
    CHECK(palette.fabrics.at(0).colour->reading == expected);
    const document::Json kept = write_palette(palette);
    CHECK(kept["fabrics"][0]["colour"]["reading"]["by"] == "card");
    const document::Json in_layout = write_fabrics(palette.fabrics, palette.measure, false);
    CHECK_FALSE(in_layout[0]["colour"].contains("reading"));
}

TEST_CASE("a reading that cannot be is refused") {
    for (const char* wrong : {R"({"by": "guess", "confidence": 1})", R"({"by": "card", "confidence": 1.5})",
                              R"({"confidence": 1})", R"({"by": "paper", "confidence": 1, "cut_out": 3})",
                              R"({"by": "paper", "confidence": 1, "sure": 1})",
                              R"({"by": "paper", "confidence": 1, "warnings": "blurred"})"})
        CHECK_THROWS_AS(with_reading(wrong), Fault);
}
