#include "unit/run.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "document/document.h"
#include "fault/fault.h"
#include "unit/figure.h"
#include "unit/read_action.h"
#include "unit/words.h"

namespace motley::unit {

namespace {

/// The piece as it is cut from its input, in its own coordinates.
Polygon cut_outline(Cut shape, double width, double height) {
    switch (shape) {
        case Cut::half_square:
            return {{0, 0}, {width, width}, {0, width}};
        case Cut::quarter_square:
            return {{width / 2, width / 2}, {width, width}, {0, width}};
        default:
            return Box{0, 0, width, height}.outline();
    }
}

std::size_t whole(const Recipe& recipe, const Values& values, const Expression& size, const std::string& of) {
    const double number = values.of(size);
    if (!(number >= 1 && number <= 999) || std::abs(number - std::round(number)) > 1e-9)
        throw Fault(Cause::input, "recipe " + recipe.id,
                    fmt::format("{} comes to {:.4g} of {}", document::in_quotes(size.text()), number,
                                document::in_quotes(of)),
                    "it must be a whole number from 1 to 999");
    return static_cast<std::size_t>(std::lround(number));
}

class Runner {
public:
    Runner(const Recipe& recipe, const Order& order, const Values& values, const Values& usual, bool seeking)
        : recipe_(recipe),
          order_(order),
          values_(values),
          usual_(usual),
          seeking_(seeking),
          made_{Bench(recipe.id, order.measure, order.seam.in_inches(), seeking), {}, {}, {}, {}} {}

    Run run() {
        lay_out();
        for (const Action& action : recipe_.steps) {
            ++written_;
            const bool wanted = std::all_of(action.when.begin(), action.when.end(), [&](const auto& when) {
                return values_.word(when.first) == when.second;
            });
            if (!wanted) continue;
            made_.bench.begin(++number_, written_, action.verb);
            const std::string as = action.as.empty() ? taken(action.operation)[0] : action.as;
            if (const auto* around = std::get_if<JoinAround>(&action.operation)) {
                join_around(*around, action.note, as);
            } else {
                std::visit([&](const auto& operation) { perform(operation, as); }, action.operation);
                if (!seeking_) record(action);
            }
            for (const Wish& wish : action.wishes) measure(wish, as);
        }
        for (Input& input : made_.inputs)
            if (input.shape == Cut::strip) {
                input.height = made_.bench.length_of_strips(static_cast<int>(&input - made_.inputs.data()));
                input.height_cut = usual_size(input.height, order_.measure);
            }
        if (!seeking_) draw_strips();
        return std::move(made_);
    }

private:
    void lay_out() {
        made_.bench.begin(1, 0, "cut out");
        for (const InputRule& rule : recipe_.inputs) {
            const std::size_t copies = whole(recipe_, values_, rule.copies, rule.name);
            const std::size_t pieces = whole(recipe_, values_, rule.pieces, rule.name);
            for (const std::string& name : rule.width.names())
                if (const std::size_t sizes = values_.list_size(name); sizes > 1 && sizes != copies)
                    throw Fault(
                        Cause::input, "recipe " + recipe_.id,
                        fmt::format("{} sizes for {} of {}", sizes, copies, document::in_quotes(rule.name)),
                        fmt::format("give one size, or {}", copies));
            for (std::size_t copy = 0; copy < copies; ++copy) add_input(rule, copy, pieces);
        }
        if (seeking_) return;
        Step& step = made_.bench.step();
        for (const InputRule& rule : recipe_.inputs)
            if (rule.shape != Cut::strip) made_.bench.show(rule.name);
        step.text = cutting_out(made_.inputs, order_.sizes == Sizes::usual, order_.measure);
        step.ledger = made_.bench.ledger();
        made_.steps.push_back(step);
    }

    /// How long the strips must be shows only at the end; the first step draws them among the other pieces.
    void draw_strips() {
        std::vector<Figure> pieces = std::move(made_.steps.front().after), drawn;
        for (std::size_t i = 0; i < made_.inputs.size(); ++i) {
            const Input& input = made_.inputs[i];
            const int index = static_cast<int>(i);
            if (input.shape == Cut::strip && input.height > 0)
                drawn.push_back(figure(
                    input.name,
                    Flat{{{Box{0, 0, input.height, input.width}.outline(), index, 0, Motion{}, false}}, {}},
                    order_.measure));
            for (Figure& piece : pieces)
                if (!piece.shapes.empty() && piece.shapes.front().input == index)
                    drawn.push_back(std::move(piece));
        }
        made_.steps.front().after = std::move(drawn);
    }

    void add_input(const InputRule& rule, std::size_t copy, std::size_t pieces) {
        Input input;
        input.name = rule.numbered ? fmt::format("{} {}", rule.name, copy + 1) : rule.name;
        input.role = rule.role;
        input.shape = rule.shape;
        input.pieces = static_cast<int>(pieces);
        input.width = values_.of(rule.width, copy);
        input.height = rule.shape == Cut::rectangle ? values_.of(rule.height, copy) : input.width;
        input.width_cut = measure::Length::inches(usual_.of(rule.width, copy));
        input.height_cut = rule.shape == Cut::rectangle
                               ? measure::Length::inches(usual_.of(rule.height, copy))
                               : input.width_cut;
        for (const Unknown& unknown : recipe_.unknowns)
            for (const Expression* size : {&rule.width, &rule.height})
                for (const std::string& name : size->names())
                    input.found = input.found || name == unknown.name;
        input.per_square = rule.shape == Cut::half_square ? 2 : rule.shape == Cut::quarter_square ? 4 : 1;
        if (!(input.width > 0 && input.height > 0) || !std::isfinite(input.width + input.height))
            throw Fault(Cause::input, "recipe " + recipe_.id,
                        fmt::format("{} comes to {}", document::in_quotes(input.name),
                                    made_.bench.said()(input.width, input.height)),
                        "ask for a larger unit or a narrower seam");
        const int index = static_cast<int>(made_.inputs.size());
        for (int piece = 0; piece < input.pieces; ++piece) {
            if (rule.shape == Cut::strip)
                made_.bench.add_strip(rule.name, {index, piece, input.width});
            else
                made_.bench.add_piece(
                    rule.name,
                    {{{cut_outline(rule.shape, input.width, input.height), index, piece, Motion{}, false}},
                     {}});
        }
        made_.inputs.push_back(std::move(input));
        rule_of_input_.push_back(rule.name);
    }

    std::vector<int> inputs_called(const std::string& name) const {
        std::vector<int> found;
        for (std::size_t i = 0; i < rule_of_input_.size(); ++i)
            if (rule_of_input_[i] == name) found.push_back(static_cast<int>(i));
        return found;
    }

    std::optional<double> size(const Expression& expression) const {
        if (expression.empty()) return std::nullopt;
        return values_.of(expression);
    }

    void perform(const SewStripSet& how, const std::string& as) {
        const double section = values_.of(how.section);
        const std::size_t sections = whole(recipe_, values_, how.sections, as);
        made_.bench.strip_set(how.strips, section * static_cast<double>(sections), how.press, as);
        if (seeking_) return;
        StripSetYield yield{
            as, {}, 0, section, measure::Length::inches(usual_.of(how.section)), static_cast<int>(sections)};
        const Flat set = made_.bench.flats(as).back();
        yield.width = box(set).height();
        for (const Scrap& scrap : set.scraps)
            if (!scrap.hidden) yield.inputs.push_back(scrap.input);
        made_.sets.push_back(std::move(yield));
    }
    void perform(const CrossCut& how, const std::string& as) {
        made_.bench.cross_cut(how.thing, values_.of(how.every), as);
    }
    void perform(const Join& how, const std::string& as) { made_.bench.join(how, as); }
    void perform(const JoinAround&, const std::string&) {} // See join_around.
    void perform(const JoinRows& how, const std::string& as) { made_.bench.join_rows(how, as); }
    void perform(const Lay& how, const std::string& as) { made_.bench.lay(how, as); }
    void perform(const SewLines& how, const std::string& as) { made_.bench.sew(how, as); }
    void perform(const CutLines& how, const std::string& as) { made_.bench.cut(how, as); }
    void perform(const TrimSeam& how, const std::string& as) { made_.bench.trim_seam(how.thing, as); }
    void perform(const Open& how, const std::string& as) { made_.bench.open(how, as); }
    void perform(const Trim& how, const std::string& as) {
        made_.bench.trim(how, size(how.width), size(how.height), as);
    }
    void perform(const Turn& how, const std::string& as) {
        made_.bench.turn(how, how.put.empty() ? std::vector<int>{} : inputs_called(how.put), as);
    }

    /// One step for each piece that is added.
    void join_around(const JoinAround& how, const std::string& note, const std::string& as) {
        std::vector<std::size_t> used(how.with.size(), 0);
        // A pile that is named twice is counted where it stands first.
        const auto first_place = [&](std::size_t i) {
            return static_cast<std::size_t>(std::find(how.with.begin(), how.with.end(), how.with[i]) -
                                            how.with.begin());
        };
        std::size_t left = 0;
        std::vector<std::size_t> sizes;
        for (std::size_t i = 0; i < how.with.size(); ++i) {
            sizes.push_back(made_.bench.count(how.with[i]));
            if (first_place(i) == i) left += sizes[i];
        }
        std::string core = how.first;
        for (std::size_t place = 0, side = 0; left > 0; ++place) {
            const std::size_t i = first_place(place % how.with.size());
            if (used[i] == sizes[i]) continue;
            if (side > 0) made_.bench.begin(++number_, written_, "join-around");
            const std::string name =
                sizes[i] == 1 ? how.with[i] : fmt::format("{}.{}", how.with[i], ++used[i]);
            used[i] = sizes[i] == 1 ? 1 : used[i];
            const Join join{core, name, how.sides[side % how.sides.size()], 0, false, how.press};
            made_.bench.join(join, as);
            if (!seeking_) record({"join-around", join, side == 0 ? note : "", as, {}, {}});
            core = as;
            ++side;
            --left;
        }
    }

    /// Of the first of the pile.
    void measure(const Wish& wish, const std::string& as) {
        const std::vector<Flat> pile = made_.bench.flats(as);
        const std::vector<int> inputs = inputs_called(wish.input);
        const double seam = made_.bench.seam();
        const Box whole_thing = box(pile[0]);
        const Polygon finished = Box{whole_thing.left + seam, whole_thing.top + seam,
                                     whole_thing.right - seam, whole_thing.bottom - seam}
                                     .outline();
        Flat seen;
        for (const Scrap& scrap : pile[0].scraps) {
            if (scrap.hidden) continue;
            if (!wish.input.empty() && std::find(inputs.begin(), inputs.end(), scrap.input) == inputs.end())
                continue;
            Scrap part = scrap;
            if (wish.patch) part.outline = common(part.outline, finished);
            if (!part.outline.empty()) seen.scraps.push_back(std::move(part));
        }
        if (seen.scraps.empty())
            made_.bench.refuse("nothing of " + document::in_quotes(wish.input) + " shows",
                               "ask for a larger unit or a narrower seam");
        const Box measured = box(seen);
        made_.shortfalls.push_back(
            {wish.finds, (wish.height ? measured.height() : measured.width()) - values_.of(wish.is)});
    }

    void record(const Action& action) {
        Step& step = made_.bench.step();
        const Said& said = made_.bench.said();
        const auto sized = [&](const Expression& expression) { return values_.of(expression); };
        std::vector<std::string> strips;
        if (std::holds_alternative<SewStripSet>(action.operation))
            for (const int input : made_.sets.back().inputs)
                strips.push_back(made_.inputs[static_cast<std::size_t>(input)].name);
        step.text = instruction(action, step, order_.seam.in_inches(), strips, sized, said);
        step.outcome = outcome(step, said);
        step.ledger = made_.bench.ledger();
        made_.steps.push_back(step);
    }

    const Recipe& recipe_;
    const Order& order_;
    const Values& values_;
    const Values& usual_;
    bool seeking_;
    int number_ = 1;  ///< Of the step as it is told; cutting out is the first.
    int written_ = 0; ///< Of the step in the recipe's own list.
    std::vector<std::string> rule_of_input_;
    Run made_;
};

} // namespace

Run run(const Recipe& recipe, const Order& order, const Values& values, const Values& usual, bool seeking) {
    return Runner(recipe, order, values, usual, seeking).run();
}

} // namespace motley::unit
