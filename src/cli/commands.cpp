#include "cli/commands.h"

#include <fmt/format.h>

#include <charconv>
#include <cmath>

#include "cli/lists.h"
#include "cli/progress.h"
#include "cli/table.h"
#include "document/document.h"

namespace motley::cli {

using document::Json;

pipeline::Common common(const Words& words, Bar& bar) {
    pipeline::Common common;
    common.threads = words.threads;
    common.most_pixels = static_cast<std::int64_t>(words.megapixels * 1e6);
    common.picture_side = words.pixels;
    common.progress = bar.teller();
    return common;
}

namespace {

pipeline::PlaceRequest place_request(const Words& words, Bar& bar) {
    pipeline::PlaceRequest request;
    request.plan = words.input;
    request.seed = words.seed;
    request.candidates = words.candidates;
    request.seconds = words.seconds;
    request.common = common(words, bar);
    return request;
}

void tell_remarks(const std::vector<std::string>& remarks, const Streams& streams) {
    for (const std::string& remark : remarks) streams.err << "motley: " << remark << '\n';
}

std::string ratio(const std::optional<double>& figure) {
    return figure ? fmt::format("{:.3f}", *figure) : std::string("-");
}

/// How far the spread is from the best that can be; nothing where that would tell nothing.
void tell_spread_bound(const layout::Score& score, const Streams& streams) {
    if (!score.spread || !score.spread_bound) return;
    constexpr double telling = 1.25, alike = 1 + 1e-5;
    const double over = *score.spread / *score.spread_bound;
    if (!(over <= telling)) return;
    if (over < alike)
        streams.out << "No layout of these counts can have a lower spread.\n";
    else
        streams.out << fmt::format(
            "Spread {:.3f}: no layout of these counts can be under {:.3f} (within {:.0f} %).\n",
            *score.spread, std::floor(*score.spread_bound * 1000) / 1000, std::ceil(100 * (over - 1)));
}

void tell_score(const layout::Layout& top, const Streams& streams) {
    const layout::Score& score = top.score;
    int closest = 0;
    for (const auto& [fabric, steps] : score.closest)
        if (closest == 0 || steps < closest) closest = steps;
    streams.out << fmt::format("{} across, {} down; seed {}; every rule kept.\n", top.plan.columns,
                               top.plan.rows, top.seed);
    if (closest > 1)
        streams.out << fmt::format("No fabric{} comes nearer to itself than {} units.\n",
                                   top.plan.rules.exempt.empty() ? "" : ", backgrounds aside,", closest);
    streams.out << fmt::format(
        "Evenness (a plain shuffle is 1, lower is better): spread {}, colour {}, value {}.\n",
        ratio(score.spread), ratio(score.colour), ratio(score.value));
    tell_spread_bound(score, streams);
}

/// "plum=3": the number is what follows the last "=".
std::vector<pipeline::Shortage> shortages(const std::vector<std::string>& words) {
    std::vector<pipeline::Shortage> all;
    std::vector<Problem> problems;
    for (const std::string& word : words) {
        const std::size_t sign = word.rfind('=');
        int patches = 0;
        bool good = sign != std::string::npos && sign > 0;
        if (good) {
            const char *first = word.data() + sign + 1, *last = word.data() + word.size();
            const auto [end, error] = std::from_chars(first, last, patches);
            good = error == std::errc() && end == last && patches >= 1;
        }
        if (good)
            all.push_back({word.substr(0, sign), patches});
        else
            problems.push_back(
                {"--short", fmt::format("found {}", document::in_quotes(word)),
                 "give a fabric and how many patches of it are missing, 1 or more, such as plum=3"});
    }
    if (!problems.empty()) throw Fault(Cause::input, std::move(problems));
    return all;
}

void tell_change(const layout::Layout& top, const pipeline::Mended::Change& change, std::ostream& out) {
    std::vector<std::string> parts;
    for (std::size_t p = 0; p < change.from.size(); ++p) {
        if (change.from[p] == change.to[p]) continue;
        const std::string role = change.from.size() == 1
                                     ? ""
                                     : fmt::format("in the {}, ", top.plan.forms().front().patches[p].role);
        parts.push_back(fmt::format("{}{} becomes {}", role, top.fabrics[palette::index(change.from[p])].name,
                                    top.fabrics[palette::index(change.to[p])].name));
    }
    if (const int turns = (change.turn_to - change.turn_from + 4) % 4; turns != 0)
        parts.push_back(turns == 2 ? "it is turned half round"
                                   : fmt::format("it takes a quarter turn {}",
                                                 turns == 1 ? "clockwise" : "anticlockwise"));
    out << fmt::format("  row {}, column {}: {}\n", change.row + 1, change.column + 1,
                       fmt::join(parts, "; "));
}

void tell_changes(const pipeline::Mended& mended, std::ostream& out) {
    const int changes = static_cast<int>(mended.changes.size());
    if (changes == 0) {
        out << "Nothing needs to change: the layout meets its plan.\n";
        return;
    }
    out << fmt::format("{} unit{}:\n", changes, changes == 1 ? " changes" : "s change");
    for (const pipeline::Mended::Change& change : mended.changes) tell_change(mended.layout, change, out);
    if (mended.at_least == changes)
        out << "Fewer would not do (proved).\n";
    else
        out << fmt::format("Fewer was not found; at least {} must change (proved).\n", mended.at_least);
}

Json score_json(const layout::Layout& top) {
    return layout::write_layout(top)["score"];
}

Json made_json(const pipeline::Made& made) {
    Json json = Json::object();
    json["folder"] = made.folder.string();
    json["files"] = made.files;
    json["score"] = score_json(made.placed.layouts.front());
    return json;
}

} // namespace

int make(const Words& words, const Streams& streams) {
    pipeline::Made made;
    {
        Bar bar(streams.err, streams.bar);
        made = pipeline::make(place_request(words, bar), words.out);
    }
    tell_remarks(made.placed.remarks, streams);
    const layout::Layout& top = made.placed.layouts.front();
    if (words.json) {
        Json json = made_json(made);
        json.update(lists_json(top, *made.lists));
        streams.out << document::print(json);
        return 0;
    }
    tell_counts(top, made.lists->counts, streams);
    streams.out << '\n';
    tell_score(top, streams);
    tell_purchase(top, made.lists->buying, streams);
    streams.out << fmt::format("In {}: {}.\n", made.folder.string(), fmt::join(made.files, ", "));
    return 0;
}

int place(const Words& words, const Streams& streams) {
    pipeline::Placed placed;
    {
        Bar bar(streams.err, streams.bar);
        placed = words.out.empty() ? pipeline::place(place_request(words, bar))
                                   : pipeline::place_into(place_request(words, bar), words.out);
    }
    tell_remarks(placed.remarks, streams);
    // Without a file to write to, the layout itself is the result.
    if (words.json || words.out.empty())
        streams.out << document::print(layout::write_layout(placed.layouts.front()));
    else
        tell_score(placed.layouts.front(), streams);
    return 0;
}

int mend(const Words& words, const Streams& streams) {
    pipeline::MendRequest request;
    request.layout = words.input;
    request.shortages = shortages(words.shortages);
    pipeline::Mended mended;
    {
        Bar bar(streams.err, streams.bar);
        request.common = common(words, bar);
        mended = words.out.empty() ? pipeline::mend(request) : pipeline::mend_into(request, words.out);
    }
    const bool printed = words.json || words.out.empty();
    if (printed) streams.out << document::print(layout::write_layout(mended.layout));
    if (words.json) return 0;
    tell_changes(mended, printed ? streams.err : streams.out);
    if (printed)
        streams.err << "The new layout is printed; --out FILE keeps it in a file.\n";
    else
        streams.out << fmt::format("In {}; {} is as it was.\n", words.out.string(), words.input.string());
    return 0;
}

int check(const Words& words, const Streams& streams) {
    std::vector<Problem> problems;
    {
        Bar bar(streams.err, streams.bar);
        problems = pipeline::check(words.input, common(words, bar));
    }
    if (words.json) {
        Json json = Json::object();
        json["readable"] = true;
        json["obstacles"] = Json::array();
        for (const Problem& problem : problems)
            json["obstacles"].push_back({{"what", problem.what}, {"remedy", problem.remedy}});
        streams.out << document::print(json);
    } else if (problems.empty()) {
        streams.out << fmt::format("{} is readable, and nothing proves that it cannot be met.\n",
                                   words.input.string());
    }
    if (problems.empty()) return 0;
    if (!words.json) streams.err << "motley: " << text(problems) << '\n';
    return static_cast<int>(Cause::unmet);
}

int draw(const Words& words, const Streams& streams) {
    pipeline::Made made;
    {
        Bar bar(streams.err, streams.bar);
        made = pipeline::draw({words.input, words.out, words.palette, common(words, bar)});
    }
    tell_remarks(made.placed.remarks, streams);
    if (words.json)
        streams.out << document::print(made_json(made));
    else
        streams.out << fmt::format("In {}: {}.\n", made.folder.string(), fmt::join(made.files, ", "));
    return 0;
}

int count(const Words& words, const Streams& streams) {
    const pipeline::Counted counted = pipeline::count(words.input, words.out);
    if (words.json) {
        streams.out << document::print(lists_json(counted.layout, counted.lists));
        return 0;
    }
    tell_counts(counted.layout, counted.lists.counts, streams);
    streams.out << '\n';
    tell_cutting(counted.layout, counted.lists.cutting, streams);
    streams.out << '\n';
    tell_buying(counted.layout, counted.lists.buying, streams);
    if (!counted.files.empty())
        streams.out << fmt::format("In {}: {}.\n", words.out.string(), fmt::join(counted.files, ", "));
    return 0;
}

} // namespace motley::cli
