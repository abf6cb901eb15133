#pragma once
/// A handout made for a test, and what Poppler's programs read in it. Fabrics and plans are invented.

#include <fmt/format.h>
#include <unistd.h>

#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

#include "../cutting/plans.h"
#include "handout/handout.h"
#include "layout/top.h"
#include "unit/recipe.h"

namespace printed {

using namespace motley;

/// Everything that follows from a top, kept together.
struct Made {
    layout::Layout layout;
    std::vector<cutting::FabricCount> counts;
    cutting::Cutting cutting;
    cutting::FinishingPlan finishing;
    cutting::BuyingList buying;
    assembly::Assembly assembly;
    std::vector<cutting::SizeRow> sizes;
    unit::Sewn sewn;
    std::string recipe;
    photo::Raster preview;
    std::vector<handout::BorderUnits> border_units;

    explicit Made(layout::Layout top) : layout(std::move(top)) {
        const layout::Plan& plan = layout.plan;
        counts = cutting::count(layout);
        cutting = cutting::cutting_for(layout, plan.usable_width);
        const layout::Extent extent = layout::extent_of(plan);
        finishing = cutting::finishing_for(measure::Length::inches(extent.width),
                                           measure::Length::inches(extent.height), plan.making_up.finish,
                                           plan.making_up.cloth, plan.usable_width);
        buying = cutting::buying_for(layout, cutting, finishing);
        assembly = assembly::assemble(layout);
        unit::Order order;
        order.finished = plan.finished;
        order.seam = plan.seam;
        order.measure = plan.measure;
        order.choices = plan.choices;
        order.sizes = unit::Sizes::usual;
        const unit::Recipe& with = *unit::find_recipe(plan.recipe);
        sewn = unit::sew(with, order);
        recipe = with.name;
        for (std::size_t b = 0; b < plan.setting.borders.size(); ++b) {
            const layout::Border& border = plan.setting.borders[b];
            if (!border.units) continue;
            order.finished = border.width;
            order.choices = border.units->choices;
            border_units.push_back(
                {static_cast<int>(b),
                 layout::border_patches(plan, b) / static_cast<int>(border.units->form().patches.size()),
                 unit::sew(border.units->recipe, order), border.units->recipe.name});
        }
        preview.width = 40;
        preview.height = 50;
        for (int i = 0; i < 40 * 50 * 3; ++i)
            preview.pixels.push_back(static_cast<std::uint8_t>(i * 7 % 251));
    }

    std::vector<std::byte> pdf() const {
        return handout::make_handout({layout, counts, cutting, buying, finishing, assembly, sizes, sewn,
                                      recipe, preview, "7.8.9", border_units});
    }
};

inline std::string text_of(const std::vector<std::byte>& bytes) {
    return {reinterpret_cast<const char*>(bytes.data()), bytes.size()};
}

/// Poppler's programs are there on a machine set up by tests/run.sh.
inline bool poppler() {
    static const bool there = std::system("pdftotext -v >/dev/null 2>&1") == 0;
    if (!there) std::puts("poppler-utils is not installed: what it would read is not checked");
    return there;
}

/// What a program prints about a PDF; `program` ends before the file's name.
inline std::string told(const std::vector<std::byte>& pdf, const std::string& program,
                        const std::string& after = {}) {
    namespace fs = std::filesystem;
    static int number = 0;
    const fs::path stem = fs::temp_directory_path() /
                          fmt::format("motley-handout-{}-{}", static_cast<long>(::getpid()), ++number);
    const fs::path file = stem.string() + ".pdf", out = stem.string() + ".txt";
    std::ofstream(file, std::ios::binary)
        .write(reinterpret_cast<const char*>(pdf.data()), static_cast<std::streamsize>(pdf.size()));
    const std::string command =
        fmt::format("{} {} {} > {} 2>&1", program, file.string(), after, out.string());
    const int code = std::system(command.c_str());
    std::ifstream in(out, std::ios::binary);
    std::stringstream words;
    words << in.rdbuf();
    fs::remove(file);
    fs::remove(out);
    return code == 0 ? words.str() : "failed: " + words.str();
}

/// Words as they stand in lines on the pages.
inline std::string read_back(const std::vector<std::byte>& pdf) {
    return told(pdf, "pdftotext -layout", "-");
}

/// Runs of white space as one space.
inline std::string plain(const std::string& text) {
    std::string made;
    for (const char c : text)
        if (c == ' ' || c == '\n' || c == '\f' || c == '\t') {
            if (!made.empty() && made.back() != ' ') made += ' ';
        } else {
            made += c;
        }
    return made;
}

/// Whether a line holds all of these, in this order.
inline bool line_with(const std::string& text, const std::vector<std::string>& parts) {
    std::istringstream lines(text);
    for (std::string line; std::getline(lines, line);) {
        const std::string words = plain(line);
        std::size_t at = 0;
        bool all = true;
        for (const std::string& part : parts) {
            at = words.find(part, at);
            all = all && at != std::string::npos;
            if (!all) break;
            at += part.size();
        }
        if (all) return true;
    }
    return false;
}

} // namespace printed
