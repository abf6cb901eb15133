#include "handout/sheets.h"

#include <fmt/format.h>

namespace motley::handout {

namespace {

/// Words that go with one of several sheets: "Sheet 2 of 4, upper right".
std::string place_of(const render::MapSheet& sheet) {
    const char* down = sheet.sheets_down == 1                ? ""
                       : sheet.down == 0                     ? "upper "
                       : sheet.down + 1 == sheet.sheets_down ? "lower "
                                                             : "middle ";
    const char* across = sheet.sheets_across == 1                  ? "part"
                         : sheet.across == 0                       ? "left"
                         : sheet.across + 1 == sheet.sheets_across ? "right"
                                                                   : "centre";
    return fmt::format("Sheet {} of {}, {}{}", sheet.down * sheet.sheets_across + sheet.across + 1,
                       sheet.sheets_across * sheet.sheets_down, down, across);
}

} // namespace

void put_sheets(const Writer& writer, const std::vector<render::MapSheet>& sheets,
                const std::function<render::Figure(const render::MapSheet&)>& draw) {
    for (const render::MapSheet& sheet : sheets) {
        if (sheets.size() > 1) writer.pages.heading(place_of(sheet));
        writer.pages.figure(draw(sheet));
    }
}

} // namespace motley::handout
