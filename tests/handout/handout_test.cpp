#include "handout/handout.h"

#include <unistd.h>

#include <algorithm>
#include <catch.hpp>
#include <map>
#include <regex>
#include <thread>

#include "printed.h"

using namespace motley;
using printed::Made;

namespace {

/// Settings that make the handout use all it has.
const std::vector<std::string> tops{
    R"("name": "Plain squares", "setting": {"columns": 7, "rows": 9})",
    R"("name": "Triangles", "setting": {"columns": 6, "rows": 5, "borders": [{"width": "3", "fabric": "f1"}]},
       "unit": {"recipe": "half-square-triangle", "finished": "5"},
       "cloth": {"slack": "2", "ends": "1", "price": 12.5, "currency": "$ "}, "finish": {"label": "For Ada"})",
    R"("name": "Strip sets", "setting": {"columns": 6, "rows": 4}, "unit": {"recipe": "strip-set-triangle"})",
    R"("name": "On point", "setting": {"columns": 4, "rows": 5, "arrangement": "on-point", "edge": "f1",
       "sashing": {"width": "1", "fabric": "f0", "cornerstone": ["f2", "f3"]}})",
    R"("name": "Logs", "measure": "metric", "setting": {"columns": 4, "rows": 3}, "unit": {"recipe": "log-cabin", "finished": "24"})",
    R"("name": "Tiny", "setting": {"columns": 1, "rows": 1})",
};

std::string with_page(const std::string& plan, const std::string& page) {
    return plan + ", \"handout\": " + page;
}

/// Numbers that nothing else in a handout has.
cutting::SizeRow invented_size() {
    cutting::SizeRow row;
    row.asked.name = "lap";
    row.columns = 8;
    row.rows = 11;
    row.units = 88;
    row.pieces = 1234;
    row.width = plans::inches(48);
    row.height = plans::inches(66);
    row.cloth = plans::inches(36 * 4.5);
    row.backing_buy = plans::inches(36 * 3.625);
    row.binding_strips = 6;
    row.binding_buy = plans::inches(27);
    row.batting_width = plans::inches(56);
    row.batting_height = plans::inches(74);
    return row;
}

/// Each top is made and printed once for all tests.
struct Printed {
    Made made;
    std::vector<std::byte> pdf;
    std::string text; ///< Empty without Poppler.
};
const Printed& print(std::size_t top) {
    static std::map<std::size_t, Printed> all;
    auto found = all.find(top);
    if (found == all.end()) {
        Made made(plans::top(tops.at(top), 9));
        made.sizes = {invented_size()};
        std::vector<std::byte> pdf = made.pdf();
        const std::string text = printed::poppler() ? printed::read_back(pdf) : "";
        found = all.emplace(top, Printed{std::move(made), std::move(pdf), text}).first;
    }
    return found->second;
}

} // namespace

TEST_CASE("every number of the buying list is read back beside its fabric") {
    if (!printed::poppler()) return;
    for (std::size_t t = 0; t < tops.size(); ++t) {
        CAPTURE(tops[t]);
        const auto& [made, pdf, text] = print(t);
        const measure::System system = made.layout.plan.measure;
        for (const cutting::BuyLine& line : made.buying.lines) {
            if (line.buy.ticks == 0) continue;
            std::string name = line.what;
            if (line.id.empty()) name[0] = static_cast<char>(std::toupper(name[0]));
            std::vector<std::string> parts{name, measure::print(line.length, system),
                                           cutting::print_cloth(line.buy, system),
                                           measure::print(line.spare, system)};
            if (line.narrow_buy) parts.push_back(cutting::print_cloth(*line.narrow_buy, system));
            if (line.price) parts.push_back(fmt::format("{:.2f}", *line.price));
            CAPTURE(parts);
            CHECK(printed::line_with(text, parts));
        }
        std::vector<std::string> sum{"In all", cutting::print_cloth(made.buying.total, system)};
        if (made.buying.cost) sum.push_back(fmt::format("$ {:.2f}", *made.buying.cost));
        CHECK(printed::line_with(text, sum));
    }
}

TEST_CASE("counts, sizes of pieces, and the sizes of other quilts are read back") {
    if (!printed::poppler()) return;
    for (std::size_t t = 0; t < tops.size(); ++t) {
        CAPTURE(tops[t]);
        const auto& [made, pdf, text] = print(t);
        for (const cutting::FabricCount& count : made.counts) {
            if (count.patches == 0) continue;
            const palette::Fabric& fabric = made.layout.fabrics[palette::index(count.fabric)];
            CHECK(printed::line_with(text, {made.assembly.letters[palette::index(count.fabric)], fabric.name,
                                            std::to_string(count.units), std::to_string(count.patches),
                                            fmt::format("{:.1f} %", count.share * 100)}));
        }
        // Cards lie beside drawings: their words are looked for without what stands between.
        std::string bare;
        for (const char c : text)
            if (c != ' ' && c != '\n') bare += c;
        for (const cutting::FabricCuts& cuts : made.cutting.fabrics)
            for (const cutting::CutListPiece& piece : cuts.list.pieces) {
                std::string start =
                    fmt::format("{}×{}", piece.count, piece.name.substr(0, piece.name.find(' ')));
                CAPTURE(start);
                CHECK(bare.find(start) != std::string::npos);
            }
        if (made.layout.plan.measure == measure::System::inch)
            CHECK(printed::line_with(text, {"Lap", "48 in × 66 in", "8 × 11 = 88", "1234", "4 1/2 yd",
                                            "3 5/8 yd", "6, 3/4 yd", "56 in × 74 in"}));
        CHECK(text.find("Planned with Motley 7.8.9.") != std::string::npos);
    }
}

TEST_CASE("the picks of all rows add up to the top") {
    if (!printed::poppler()) return;
    const std::string words = printed::plain(print(0).text);
    const std::size_t from = words.find("Row From left to right Pick");
    REQUIRE(from != std::string::npos);
    const std::string part = words.substr(from, words.find("Pressing", from) - from);
    int sum = 0;
    const std::regex pick("([0-9]+) ?× ?[A-Z]");
    for (auto at = std::sregex_iterator(part.begin(), part.end(), pick); at != std::sregex_iterator(); ++at)
        sum += std::stoi((*at)[1]);
    CHECK(sum == 63); // 7 x 9 units.
}

TEST_CASE("the same top gives the same bytes, on any thread") {
    for (const std::size_t t : {std::size_t{1}, std::size_t{2}}) {
        const Printed& first = print(t);
        std::vector<std::byte> there;
        std::thread([&] { there = first.made.pdf(); }).join();
        CHECK((first.pdf == there));
    }
}

TEST_CASE("paper, language, bookmarks and alternative texts stand in the file") {
    for (const auto& [page, box] : {std::pair(R"({"paper": "letter"})", "/MediaBox [ 0 0 612 792 ]"),
                                    std::pair(R"({"paper": "a4"})", "/MediaBox [ 0 0 595.28 841.89 ]")}) {
        const Made made(plans::top(with_page(tops[1], page), 9));
        const std::string file = printed::text_of(made.pdf());
        CHECK(file.find(box) != std::string::npos);
        for (const char* wanted :
             {"/Lang (en)", "/MarkInfo", "/DisplayDocTitle true", "/Outlines", "/Title (Triangles)",
              "/Author (Motley 7.8.9)", "/CreationDate (D:20000101000000Z)"})
            CHECK(file.find(wanted) != std::string::npos);
        // Said once in the catalogue that counts, the last.
        const std::string catalogue = file.substr(file.rfind("/Type /Catalog"));
        CHECK(catalogue.find("/MarkInfo") == catalogue.rfind("/MarkInfo"));
        CHECK(catalogue.find("/Lang (en)") != std::string::npos);
        // Each figure has its words.
        std::size_t figures = 0, alts = 0;
        for (std::size_t at = file.find("/Alt <FEFF"); at != std::string::npos;
             at = file.find("/Alt <FEFF", at + 1))
            ++alts;
        const std::string head = "<< /Type /StructElem\n   /S /Figure\n";
        for (std::size_t at = file.find(head); at != std::string::npos; at = file.find(head, at + 1))
            ++figures;
        CHECK(alts > 5);
        CHECK(figures == 2 * alts); // Written once by cairo, and once more with its words.
    }
}

TEST_CASE("fonts are embedded, and the file has no fault that Poppler finds") {
    if (!printed::poppler()) return;
    const std::vector<std::byte>& pdf = print(1).pdf;
    std::istringstream lines(printed::told(pdf, "pdffonts"));
    std::string line;
    int fonts = 0;
    for (int number = 0; std::getline(lines, line); ++number) {
        if (number < 2) continue; // Headings.
        CHECK(line.substr(37).find(" yes ") != std::string::npos);
        CHECK(std::regex_search(line, std::regex("[A-Z]{6}\\+(Lato|LinLibertine|DejaVu)")));
        ++fonts;
    }
    CHECK(fonts >= 3);
    CHECK(printed::told(pdf, "pdfinfo -struct").find("Warning") == std::string::npos);
}

TEST_CASE("nothing runs off the page, at any size of print") {
    if (!printed::poppler()) return;
    for (std::size_t t = 0; t < tops.size(); ++t)
        for (const bool large : {false, true}) {
            CAPTURE(tops[t], large);
            std::vector<std::byte> pdf;
            double wide = 612, high = 792; // US Letter, in points: 8 1/2 x 11 in.
            if (large) {
                wide = 595.28, high = 841.89; // A4: 210 x 297 mm (ISO 216).
                Made made(plans::top(with_page(tops[t], R"({"paper": "a4", "large_print": true})"), 9));
                made.sizes = {invented_size()};
                pdf = made.pdf();
            } else {
                Made made(plans::top(with_page(tops[t], R"({"paper": "letter"})"), 9));
                pdf = made.pdf();
            }
            std::istringstream boxes(printed::told(pdf, "pdftotext -bbox", "-"));
            constexpr double edge = 36; // Half an inch: no printer loses what lies inside.
            int words = 0;
            for (std::string line; std::getline(boxes, line);) {
                double left = 0, top = 0, right = 0, bottom = 0;
                if (std::sscanf(line.c_str(), " <word xMin=\"%lf\" yMin=\"%lf\" xMax=\"%lf\" yMax=\"%lf\">",
                                &left, &top, &right, &bottom) != 4)
                    continue;
                ++words;
                if (left >= edge && right <= wide - edge && top >= edge && bottom <= high - edge) continue;
                CAPTURE(line);
                CHECK(false);
            }
            CHECK(words > 150);
        }
}

TEST_CASE("large print is large, and all its words are there") {
    if (!printed::poppler()) return;
    const Made made(plans::top(with_page(tops[1], R"({"large_print": true})"), 9));
    const std::vector<std::byte> pdf = made.pdf();
    const std::string text = printed::plain(printed::read_back(pdf));
    for (const char* words : {"What you need", "Cutting", "Sewing the units", "The layout", "Sewing the top",
                              "Pressing", "Finishing", "For Ada", "Close the rotary cutter at every pause"})
        CHECK(text.find(words) != std::string::npos);
    const auto pages = [](const std::vector<std::byte>& of) {
        const std::string told = printed::told(of, "pdfinfo");
        return std::stoi(told.substr(told.find("Pages:") + 6));
    };
    CHECK(pages(pdf) > pages(print(1).pdf));
    CHECK(pages(print(1).pdf) < 25);
}

TEST_CASE("fabrics that are cut alike share a card, in the order of the letters") {
    if (!printed::poppler()) return;
    // Derived: of 63 squares each of nine fabrics shows seven, so all nine are cut alike.
    const std::string text = printed::plain(print(0).text);
    CHECK(text.find("9 fabrics cut alike") != std::string::npos);
    CHECK(text.find("A f0, B f1, C f2, D f3, E f4, F f5, G f6, H f7, J f8. Of each:") != std::string::npos);
    // Not where one has stock and the others have none.
    layout::Layout top = plans::top(tops[0], 9);
    top.fabrics[4].stock.push_back(
        {palette::StockPiece::Piece::scrap, plans::inches(3), plans::inches(3), 2});
    const std::string other = printed::plain(printed::read_back(Made(top).pdf()));
    CHECK(other.find("3 in × 3 in (too small for any piece)") != std::string::npos);
    CHECK(other.find("What you need") != std::string::npos);
}

TEST_CASE("the units of a pieced border have their steps, though the top is of squares") {
    if (!printed::poppler()) return;
    const Made made(plans::top(
        R"("name": "Pieced", "setting": {"columns": 4, "rows": 3,
           "borders": [{"width": "6", "pieced": {"recipe": "half-square-triangle"}}]})",
        9));
    const std::string text = printed::plain(printed::read_back(made.pdf()));
    const std::size_t from = text.find("The units of border 1");
    REQUIRE(from != std::string::npos);
    // Derived: 2 (4 + 3) units of 6 in along the sides and 4 at the corners.
    CHECK(text.find("Border 1 takes 18") != std::string::npos);
    CHECK(text.find("Border 1: the units. Sew 18 units") != std::string::npos);
    for (const unit::Step& step : made.border_units.front().sewn.steps) {
        // Further on the drawings' words stand between.
        const std::string start = fmt::format("{}. {}", step.number, step.text.substr(0, 10));
        CAPTURE(start);
        CHECK(text.find(start, from) != std::string::npos);
    }
    CHECK(made.border_units.front().sewn.steps.size() > 3);
    CHECK(text.find("Other sizes") == std::string::npos); // None was asked for.
}

TEST_CASE("finishing says whose cloth it is") {
    if (!printed::poppler()) return;
    const auto words = [](const std::string& finish) {
        return printed::plain(printed::read_back(Made(plans::top(tops[5] + finish, 9)).pdf()));
    };
    const std::string said =
        words(R"(, "finish": {"binding": {"fabric": "f3"}, "backing": {"fabric": "f7"}})");
    CHECK(std::regex_search(said, std::regex("strips? 2 1/2 in wide of [A-J] f3: they stand on its card")));
    CHECK(std::regex_search(said, std::regex("Its fabric is [A-J] f7; buy ")));
    const std::string open = words("");
    CHECK(open.find("Binding. The plan names no fabric for it.") != std::string::npos);
    CHECK(open.find("The plan names no fabric for it; buy ") != std::string::npos);
}

TEST_CASE("rows and map name the unit of the pile") {
    if (!printed::poppler()) return;
    const Printed& of = print(2);
    const std::string words = printed::plain(of.text);
    REQUIRE(of.made.assembly.cards.numbered);
    for (const assembly::Row& row : of.made.assembly.rows.rows) {
        std::string sequence = std::to_string(row.number);
        for (const assembly::Place& place : row.places)
            sequence += " " + of.made.assembly.cards.codes.at(static_cast<std::size_t>(place.cell));
        CAPTURE(sequence);
        CHECK(words.find(sequence) != std::string::npos);
    }
}

TEST_CASE("names of all sorts are printed as they are") {
    layout::Layout top = plans::top(tops[1], 9);
    const std::vector<std::string> names{
        "Rose & <b>thorn</b>", "Blümchen Größe", "",   std::string(400, 'w'), "قماش أزرق",
        "100 % &amp; more",    "a\tb",           "布", "½ price 1/2"};
    for (std::size_t f = 0; f < names.size(); ++f) top.fabrics[f].name = names[f];
    top.plan.name = "Ä & <i> a name that goes on " + std::string(300, 'x') + " and on";
    const Made made(top);
    const std::vector<std::byte> pdf = made.pdf();
    if (!printed::poppler()) return;
    const std::string text = printed::plain(printed::read_back(pdf));
    for (const char* words : {"Rose & <b>thorn</b>", "Blümchen Größe", "100 % &amp; more", "½ price 1/2"})
        CHECK(text.find(words) != std::string::npos);
    CHECK(printed::told(pdf, "pdfinfo").find("Syntax") == std::string::npos);
}
