#include "placement/obstacles_search.h"

#include <algorithm>

#include "placement/obstacles_flow.h"
#include "placement/start_deduction.h"

namespace motley::placement {

namespace {

std::size_t at(int i) {
    return static_cast<std::size_t>(i);
}

constexpr int largest_packed = 400;  // Patches; above, packing after every step costs more than it saves.
constexpr int largest_halved = 1600; // Patches; above, the copies of halving fill the memory.

} // namespace

Search::Search(const Board& board, const Demand& demand, std::int64_t work)
    : board_(board),
      demand_(demand),
      packing_(board),
      work_(work),
      step_cost_(std::int64_t{board.fabrics} * board.words + board.patches + 16) {}

bool Search::spend() {
    work_ -= step_cost_;
    return work_ > 0;
}

Finding Search::decide() {
    Finding finding;
    Filling filling(board_, demand_, board_.patches <= largest_packed ? &packing_ : nullptr);
    const bool stands = filling.settle();
    finding.empty_patch = filling.empty_patch();
    if (!stands) {
        finding.answer = Answer::impossible;
        return finding;
    }
    finding.empty_patch = -1;
    if (!numbers_flow(board_, demand_, filling)) {
        finding.answer = Answer::impossible;
        return finding;
    }
    finding.tried = true;
    if (is_beyond_halving() && is_pinned() && !can_be_deduced(filling)) {
        finding.answer = Answer::impossible;
        return finding;
    }
    if (!probe(filling)) {
        finding.answer = Answer::impossible;
        return finding;
    }
    if (board_.patches <= largest_halved) finding.answer = halve(filling);
    finding.filling = std::move(found_);
    return finding;
}

/// Tops so large that halving seldom decides them are asked about without their numbers, but for the most of
/// each fabric where that is not many.
bool Search::is_beyond_halving() const {
    constexpr int few_patches = 64;
    constexpr std::int64_t many_choices = 400'000;
    return board_.patches > few_patches && std::int64_t{board_.patches} * board_.fabrics <= many_choices;
}

bool Search::is_pinned() const {
    return std::any_of(demand_.pinned.begin(), demand_.pinned.end(),
                       [](layout::FabricId pin) { return pin != layout::no_fabric; });
}

/// False when it is proved that there is no filling; the numbers of fabrics are looked at on smaller tops
/// only.
bool Search::can_be_deduced(const Filling& filling) {
    constexpr int numbered = 600, contradictions = 2'000;
    Puzzle puzzle;
    puzzle.fabrics = board_.fabrics;
    puzzle.chosen = board_.patches;
    puzzle.choices.resize(at(board_.patches));
    std::vector<char> usable(at(board_.fabrics));
    for (int patch = 0; patch < board_.patches; ++patch) {
        puzzle.neighbours.emplace_back(board_.begin(patch), board_.end(patch));
        for (int f = 0; f < board_.fabrics; ++f)
            if (filling.may_show(patch, f)) puzzle.choices[at(patch)].push_back(f), usable[at(f)] = 1;
    }
    bool plain = true;
    for (int f = 0; f < board_.fabrics; ++f) {
        puzzle.alike.push_back(board_.alike(f));
        plain = plain && (usable[at(f)] == 0 || board_.alike(f).size() == 1);
        if (board_.patches <= numbered) puzzle.most.push_back(demand_.counts[at(f)].most);
    }
    puzzle.kinds = static_cast<int>(std::count(usable.begin(), usable.end(), 1));
    if (plain) find_groups(puzzle);
    if (board_.places > 1 && board_.brief.rules.contrast > 0) {
        puzzle.contrasts.resize(at(board_.fabrics));
        for (int f = 0; f < board_.fabrics; ++f)
            for (int g = 0; g < board_.fabrics; ++g)
                puzzle.contrasts[at(f)].push_back(static_cast<char>(board_.contrasts(f, g)));
        puzzle.mates.resize(at(board_.patches));
        for (int patch = 0; patch < board_.patches; ++patch)
            for (int other = patch - patch % board_.places, k = 0; k < board_.places; ++k, ++other)
                if (other != patch) puzzle.mates[at(patch)].push_back(other);
    }
    Chance chance(1, 0);
    Deduction deduction(puzzle, chance);
    constexpr std::int64_t words_a_step = 10;
    const Solved solved = deduction.solve(contradictions, std::max<std::int64_t>(0, work_) / words_a_step);
    work_ -= words_a_step * deduction.steps();
    return solved != Solved::impossible;
}

/// False when some patch loses every choice.
bool Search::probe(Filling& filling) {
    constexpr int few = 4;
    for (bool narrowed = true; narrowed;) {
        narrowed = false;
        for (int patch = 0; patch < board_.patches; ++patch) {
            if (filling.choices(patch) < 2 || filling.choices(patch) > few) continue;
            for (int f = 0; f < board_.fabrics && filling.choices(patch) > 1; ++f) {
                if (!filling.may_show(patch, f)) continue;
                if (!spend()) return true;
                Filling trial = filling;
                trial.keep(patch, f);
                if (trial.settle()) continue;
                filling.forbid(patch, f);
                if (!filling.settle()) return false;
                narrowed = true;
            }
        }
        if (board_.patches <= largest_packed) break; // Halving does the rest better.
    }
    return true;
}

int Search::narrowest(const Filling& filling) const {
    int best = -1;
    for (int patch = 0; patch < board_.patches; ++patch) {
        const int choices = filling.choices(patch);
        if (choices > 1 && (best < 0 || choices < filling.choices(best))) best = patch;
        if (choices == 2) break;
    }
    return best;
}

/// The fabrics of a patch, those first of which most are still to be laid.
std::vector<int> Search::by_need(const Filling& filling, int patch) const {
    std::vector<int> fabrics;
    for (int f = 0; f < board_.fabrics; ++f)
        if (filling.may_show(patch, f)) fabrics.push_back(f);
    const auto need = [&](int f) { return demand_.counts[at(f)].least - filling.used(f); };
    std::stable_sort(fabrics.begin(), fabrics.end(), [&](int f, int g) { return need(f) > need(g); });
    return fabrics;
}

/// What holds for f holds for every fabric of its kind that stands exactly as f does.
void Search::forbid_with_its_like(Filling& filling, int patch, int f) const {
    std::vector<int> like{f};
    for (int g = 0; g < board_.fabrics; ++g)
        if (g != f && board_.kinds()[at(g)] == board_.kinds()[at(f)] && filling.used(f) == 0 &&
            filling.used(g) == 0 && demand_.counts[at(f)] == demand_.counts[at(g)] &&
            std::equal(filling.open(f), filling.open(f) + board_.words, filling.open(g)))
            like.push_back(g);
    for (const int g : like) filling.forbid(patch, g);
}

Answer Search::halve(Filling& filling) {
    for (;;) {
        const int patch = narrowest(filling);
        if (patch < 0) {
            for (int i = 0; i < board_.patches; ++i) found_.push_back(filling.only_choice(i));
            return Answer::possible;
        }
        if (!spend()) return Answer::unknown;
        const int f = by_need(filling, patch).front();
        Filling trial = filling;
        trial.keep(patch, f);
        if (trial.settle())
            if (const Answer answer = halve(trial); answer != Answer::impossible) return answer;
        forbid_with_its_like(filling, patch, f);
        if (!filling.settle()) return Answer::impossible;
    }
}

Finding decide(const layout::Brief& brief, std::int64_t work) {
    const std::optional<Board> board = Board::lay_out(brief);
    if (!board) return {};
    const Demand demand(brief);
    return Search(*board, demand, work).decide();
}

} // namespace motley::placement
