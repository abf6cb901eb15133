#include "layout/tally.h"

#include <fmt/format.h>

#include <algorithm>
#include <limits>
#include <map>
#include <numeric>

namespace motley::layout {

namespace {

constexpr int no_limit = std::numeric_limits<int>::max();

/// What one fabric was asked for, and where.
struct Asked {
    Count count;
    std::string pointer = "/counts";
};

class Ledger {
public:
    Ledger(const Plan& plan, Counted counted, const std::vector<std::string>& names,
           const std::vector<Role>& roles, const std::vector<std::vector<char>>& takers,
           const std::vector<int>& yields, const PinUses& pins, Complaints& complaints)
        : plan_(plan),
          noun_(counted == Counted::pieces ? "pieces to cut" : "patches"),
          names_(names),
          role_(roles),
          takers_(takers),
          yields_(yields),
          pins_(pins),
          complaints_(complaints) {}

    std::optional<Tally> balance() {
        if (!read_counts()) return std::nullopt;
        const Bounds asked = bounds(false);
        const bool pins_good =
            pins_within_counts(); // Said beside counts that do not add up, not a run later.
        if (const auto found = misfits(asked); !found.empty()) return refuse(found);
        if (!pins_good) return std::nullopt;
        const Bounds held = with_pins(asked, false);
        if (!fits(held, "with the pins kept, ")) return std::nullopt;
        const Bounds even = with_even_windows(asked, apportion(held));
        if (!pins_within_even(even)) return std::nullopt;
        const Bounds all = with_pins(even, true);
        if (!fits(all, "with the pins kept and the even shares even, ")) return std::nullopt;
        return Tally{tightened(even), apportion(all), {}};
    }

private:
    std::size_t fabrics() const { return names_.size(); }
    std::size_t roles() const { return takers_.size(); }
    std::string name(std::size_t f) const { return in_quotes(names_[f]); }
    const std::string& role_name(std::size_t role) const { return role_[role].name; }
    bool taken(std::size_t f) const {
        return std::any_of(takers_.begin(), takers_.end(), [f](const auto& role) { return role[f] != 0; });
    }
    bool even(std::size_t f) const { return asked_[f].count.kind == Count::Kind::even; }

    bool read_counts();
    Bounds bounds(bool stock_without_end) const;
    std::optional<Tally> refuse(const std::vector<Misfit>& found);
    bool fits(const Bounds& bounds, std::string_view given);
    Problem too_many(const Misfit& misfit) const;
    Problem too_few(const Misfit& misfit, bool stock) const;
    std::string of_roles(const Misfit& misfit) const;
    Bounds with_pins(Bounds bounds, bool even_too) const;
    Bounds with_even_windows(Bounds bounds, const Table& shares) const;
    bool pins_within_counts();
    bool pins_within_even(const Bounds& windows);
    std::vector<int> pins_of(std::size_t f) const;

    const Plan& plan_;
    std::string noun_;
    const std::vector<std::string>& names_;
    const std::vector<Role>& role_;
    const std::vector<std::vector<char>>& takers_;
    const std::vector<int>& yields_;
    const PinUses& pins_;
    Complaints& complaints_;
    std::vector<Asked> asked_;
};

bool Ledger::read_counts() {
    bool good = true;
    asked_.assign(fabrics(), {});
    std::map<std::string, std::size_t> by_name;
    for (std::size_t f = 0; f < fabrics(); ++f) by_name[names_[f]] = f;
    for (const auto& [key, count] : plan_.counts)
        if (key == "*") std::fill(asked_.begin(), asked_.end(), Asked{count, "/counts/*"});
    for (const auto& [key, count] : plan_.counts) {
        if (key == "*") continue;
        const std::string pointer = fmt::format("/counts/{}", pointer_step(key));
        const auto found = by_name.find(key);
        if (found == by_name.end()) {
            complaints_.add(plan_.where(pointer), fmt::format("the palette has no fabric {}", in_quotes(key)),
                            suggestion(key, names_, "the ids are in the palette"));
            good = false;
            continue;
        }
        asked_[found->second] = {count, pointer};
        const bool none = count.most == 0;
        if (!taken(found->second) && !none) {
            complaints_.add(plan_.where(pointer),
                            fmt::format("{} has a count, but no role takes it", in_quotes(key)),
                            "add it to a list in \"roles\", or leave its count out");
            good = false;
        }
    }
    return good;
}

Bounds Ledger::bounds(bool stock_without_end) const {
    Bounds made;
    for (const Role& role : role_) made.places.push_back(role.places);
    for (std::size_t f = 0; f < fabrics(); ++f) {
        const Count& count = asked_[f].count;
        switch (count.kind) {
            case Count::Kind::exact:
            case Count::Kind::between:
                made.totals.push_back({count.least, count.most});
                break;
            case Count::Kind::even:
                made.totals.push_back({0, no_limit});
                break;
            case Count::Kind::stock:
                expects(yields_.size() == fabrics() && yields_[f] >= 0);
                made.totals.push_back({0, stock_without_end ? no_limit : yields_[f]});
                break;
        }
        if (!taken(f))
            made.totals.back() = {0, 0}; // "*" does not ask anything of fabrics that are not in play.
    }
    for (std::size_t role = 0; role < roles(); ++role) {
        made.roles.emplace_back();
        for (std::size_t f = 0; f < fabrics(); ++f)
            made.roles.back().push_back(
                {0, takers_[role][f] ? std::min(made.places[role], made.totals[f].most) : 0});
    }
    return made;
}

std::string Ledger::of_roles(const Misfit& misfit) const {
    const auto in = std::count(misfit.roles.begin(), misfit.roles.end(), 1);
    if (in == static_cast<std::ptrdiff_t>(roles())) return "";
    std::string words;
    for (std::size_t role = 0; role < roles(); ++role)
        if (misfit.roles[role]) words += (words.empty() ? "" : " and ") + in_quotes(role_name(role));
    return fmt::format(" in the role{} {}", in == 1 ? "" : "s", words);
}

Problem Ledger::too_many(const Misfit& misfit) const {
    if (misfit.fabric >= 0) {
        const std::size_t f = static_cast<std::size_t>(misfit.fabric);
        return {plan_.where(asked_[f].pointer),
                fmt::format("the counts ask for {} {} of {}, the top has room for {}", misfit.forced, noun_,
                            name(f), misfit.patches),
                "ask for fewer, or make the top larger"};
    }
    return {plan_.where("/counts"),
            fmt::format("the counts ask for {} {}{}, the top has {}", misfit.forced, noun_, of_roles(misfit),
                        misfit.patches),
            fmt::format("ask for {} fewer, or make the top larger", misfit.forced - misfit.patches)};
}

Problem Ledger::too_few(const Misfit& misfit, bool stock) const {
    const std::int64_t lacking = misfit.patches - misfit.allowed;
    if (stock)
        return {plan_.where("/counts"),
                fmt::format("the stock gives {} {}{}, the top needs {}: {} short", misfit.allowed, noun_,
                            of_roles(misfit), misfit.patches, lacking),
                "add fabric to the stock, let one fabric be \"even\", or make the top smaller"};
    return {plan_.where("/counts"),
            fmt::format("the counts ask for {} {}{}, the top has {}", misfit.allowed, noun_, of_roles(misfit),
                        misfit.patches),
            fmt::format("ask for {} more, let one fabric be \"even\", or make the top smaller", lacking)};
}

std::optional<Tally> Ledger::refuse(const std::vector<Misfit>& found) {
    const bool stock = misfits(bounds(true)).empty();
    Tally short_of;
    for (const Misfit& misfit : found) {
        if (misfit.forced > misfit.patches)
            complaints_.add(too_many(misfit).where, too_many(misfit).what, too_many(misfit).remedy);
        if (misfit.fabric < 0 && misfit.allowed < misfit.patches) {
            const Problem problem = too_few(misfit, stock);
            if (stock)
                short_of.short_stock.push_back(problem);
            else
                complaints_.add(problem.where, problem.what, problem.remedy);
        }
        const bool whole =
            std::all_of(misfit.roles.begin(), misfit.roles.end(), [](char in) { return in != 0; });
        if (whole) break; // The rest follows from it.
    }
    if (stock) return short_of;
    return std::nullopt;
}

bool Ledger::fits(const Bounds& bounds, std::string_view given) {
    const auto found = misfits(bounds);
    if (found.empty()) return true;
    const Misfit& misfit = found.front();
    Problem problem = misfit.forced > misfit.patches ? too_many(misfit) : too_few(misfit, false);
    complaints_.add(plan_.where("/pins"), fmt::format("{}{}", given, problem.what),
                    "free some pins, or change the counts");
    return false;
}

Bounds Ledger::with_pins(Bounds bounds, bool even_too) const {
    for (std::size_t role = 0; role < roles(); ++role)
        for (std::size_t f = 0; f < fabrics(); ++f) {
            if (even(f) && !even_too) continue; // A pin does not change what an even share is.
            Range& range = bounds.roles[role][f];
            range.least = std::max(range.least, static_cast<int>(pins_[role][f].size()));
        }
    return bounds;
}

/// Narrows the even fabrics to the two neighbouring whole numbers that their shares are: in each role, and in
/// total for fabrics that the same roles take.
Bounds Ledger::with_even_windows(Bounds bounds, const Table& shares) const {
    for (std::size_t role = 0; role < roles(); ++role) {
        int sum = 0, sharers = 0;
        for (std::size_t f = 0; f < fabrics(); ++f)
            if (even(f) && takers_[role][f]) sum += shares[role][f], ++sharers;
        for (std::size_t f = 0; f < fabrics(); ++f)
            if (even(f) && takers_[role][f])
                bounds.roles[role][f] = {sum / sharers, (sum + sharers - 1) / sharers};
    }
    std::map<std::vector<char>, std::vector<std::size_t>> alike;
    for (std::size_t f = 0; f < fabrics(); ++f) {
        if (!even(f) || !taken(f)) continue;
        std::vector<char> roles_of;
        for (const auto& role : takers_) roles_of.push_back(role[f]);
        alike[roles_of].push_back(f);
    }
    for (const auto& [roles_of, members] : alike) {
        int sum = 0;
        for (const std::size_t f : members)
            for (const auto& role : shares) sum += role[f];
        const int least = sum / static_cast<int>(members.size());
        for (const std::size_t f : members) bounds.totals[f] = {least, least + 1};
    }
    return bounds;
}

std::vector<int> Ledger::pins_of(std::size_t f) const {
    std::vector<int> all;
    for (const auto& role : pins_) all.insert(all.end(), role[f].begin(), role[f].end());
    std::sort(all.begin(), all.end());
    return all;
}

bool Ledger::pins_within_counts() {
    bool good = true;
    const Bounds asked = bounds(false);
    for (std::size_t f = 0; f < fabrics(); ++f) {
        const std::vector<int> pins = pins_of(f);
        if (even(f) || std::cmp_less_equal(pins.size(), asked.totals[f].most)) continue;
        const int most = asked.totals[f].most;
        const bool stock = asked_[f].count.kind == Count::Kind::stock;
        complaints_.add(
            plan_.where(fmt::format("/pins/{}", pins[static_cast<std::size_t>(most)])),
            fmt::format("{} is pinned in {} patch{}, but {} {}", name(f), pins.size(),
                        pins.size() == 1 ? "" : "es", stock ? "its stock gives only" : "its count is",
                        asked_[f].count.kind == Count::Kind::between ? fmt::format("at most {}", most)
                                                                     : std::to_string(most)),
            "free some of its pins, or raise its count");
        good = false;
    }
    return good;
}

bool Ledger::pins_within_even(const Bounds& windows) {
    bool good = true;
    const auto complain = [&](std::size_t f, const std::vector<int>& pins, Range window,
                              const std::string& as) {
        if (!even(f) || std::cmp_less_equal(pins.size(), window.most)) return false;
        complaints_.add(plan_.where(fmt::format("/pins/{}", pins[static_cast<std::size_t>(window.most)])),
                        fmt::format("{} is pinned in {} patches{}, but its even share is at most {}", name(f),
                                    pins.size(), as, window.most),
                        fmt::format("free some of its pins, or give it a count of its own: {}: {}", name(f),
                                    pins_of(f).size()));
        good = false;
        return true;
    };
    for (std::size_t f = 0; f < fabrics(); ++f) {
        bool told = false;
        for (std::size_t role = 0; role < roles() && !told; ++role)
            told = complain(f, pins_[role][f], windows.roles[role][f],
                            roles() == 1 ? "" : fmt::format(" of the role {}", in_quotes(role_name(role))));
        if (!told) complain(f, pins_of(f), windows.totals[f], "");
    }
    return good;
}

} // namespace

std::optional<Tally> tally(const Plan& plan, Counted counted, const std::vector<std::string>& names,
                           const std::vector<Role>& roles, const std::vector<std::vector<char>>& takers,
                           const std::vector<int>& yields, const PinUses& pins, Complaints& complaints) {
    return Ledger(plan, counted, names, roles, takers, yields, pins, complaints).balance();
}

} // namespace motley::layout
