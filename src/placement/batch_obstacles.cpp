// What no choice of fabrics can do inside the makings, told in words.

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "layout/score.h"
#include "placement/batch.h"

namespace motley::placement {

namespace {

using layout::Brief;
using layout::Kit;

std::size_t at(int i) {
    return static_cast<std::size_t>(i);
}

/// "strip" -> "strips".
std::string several(int many, const std::string& role) {
    return fmt::format("{} {}{}", many, role, many == 1 || role.ends_with("s") ? "" : "s");
}

/// The different groups of pieces of one role that are sewn together, none of which may show a fabric twice.
/// Groups that share a piece are told apart as one.
struct Bundles {
    int pieces = 0; ///< In each.
    int count = 0;  ///< Groups without a piece in common.
};

Bundles bundles_of(const Kit& kit, int role) {
    Bundles found;
    std::set<int> seen;
    for (const std::vector<int>& making : kit.makings) {
        std::vector<int> bundle;
        for (const int slot : making)
            if (kit.slots[at(slot)].role == role) bundle.push_back(slot);
        const bool fresh =
            std::none_of(bundle.begin(), bundle.end(), [&](int s) { return seen.contains(s); });
        if (!fresh) continue;
        seen.insert(bundle.begin(), bundle.end());
        found.pieces = static_cast<int>(bundle.size());
        ++found.count;
    }
    // Only where every piece lies in one of them do they count the pieces.
    if (seen.size() != at(kit.places(role))) found.count = 0;
    return found;
}

class Kits {
public:
    explicit Kits(const Brief& brief) : brief_(brief), kit_(brief.kit.value()) {}

    std::vector<Problem> look() {
        for (int role = 0; role < static_cast<int>(kit_.roles.size()); ++role) {
            const Bundles bundles = bundles_of(kit_, role);
            if (bundles.pieces < 2) continue;
            if (!few_fabrics(role, bundles) && bundles.count > 0) crowded(role, bundles);
        }
        contrast();
        return std::move(found_);
    }

private:
    bool takes(int role, std::size_t f) const {
        return f != layout::index(brief_.none()) && brief_.role_counts[at(role)][f].most > 0;
    }
    bool exempt(std::size_t f) const { return brief_.exempt[f] != 0; }

    bool few_fabrics(int role, const Bundles& bundles) {
        int fabrics = 0;
        for (std::size_t f = 0; f < brief_.names.size(); ++f) {
            if (!takes(role, f)) continue;
            if (exempt(f)) return false; // A background may be there twice.
            ++fabrics;
        }
        if (fabrics >= bundles.pieces) return false;
        const std::string& name = kit_.roles[at(role)];
        found_.push_back(
            {"",
             fmt::format(
                 "impossible: {} are sewn together, all of different fabrics, but only {} fabric{} may "
                 "be a {}",
                 several(bundles.pieces, name), fabrics, fabrics == 1 ? "" : "s", name),
             fmt::format("give the role {} at least {} fabrics, or sew fewer together", name,
                         bundles.pieces)});
        return true;
    }

    /// No set holds a fabric twice, so a fabric has at most as many strips as there are sets.
    void crowded(int role, const Bundles& bundles) {
        const std::string& name = kit_.roles[at(role)];
        int room = 0;
        for (std::size_t f = 0; f < brief_.names.size(); ++f) {
            if (!takes(role, f)) continue;
            const layout::Range& range = brief_.role_counts[at(role)][f];
            if (!exempt(f) && range.least > bundles.count)
                found_.push_back(
                    {"",
                     fmt::format(
                         "impossible: {} is asked for {} times as a {}, but there are only {} sets to "
                         "sew and none may have a fabric twice",
                         brief_.names[f], range.least, name, bundles.count),
                     fmt::format("use it {} times or fewer", bundles.count)});
            room += exempt(f) ? range.most : std::min(range.most, bundles.count);
        }
        if (!found_.empty() || room >= kit_.places(role)) return;
        found_.push_back(
            {"",
             fmt::format(
                 "impossible: {} are needed for {} sets, but with no fabric twice in a set the fabrics "
                 "allowed give only {}",
                 several(kit_.places(role), name), bundles.count, room),
             fmt::format("give the role {} more fabrics, or allow more of each", name)});
    }

    /// A fabric that must be used needs something of every role it shares a unit with to stand out against.
    void contrast() {
        if (brief_.rules.contrast <= 0) return;
        std::set<std::pair<int, int>> roles;
        for (const layout::KitUnit& unit : kit_.units)
            for (const int i : unit.slots)
                for (const int j : unit.slots)
                    if (kit_.slots[at(i)].role != kit_.slots[at(j)].role)
                        roles.emplace(kit_.slots[at(i)].role, kit_.slots[at(j)].role);
        for (const auto& [role, other] : roles)
            for (std::size_t f = 0; f < brief_.names.size(); ++f) {
                if (!takes(role, f) || brief_.role_counts[at(role)][f].least == 0) continue;
                bool stands_out = false;
                for (std::size_t g = 0; g < brief_.names.size(); ++g)
                    stands_out = stands_out ||
                                 (takes(other, g) &&
                                  std::abs(brief_.labs[f].l - brief_.labs[g].l) >= brief_.rules.contrast);
                if (stands_out) continue;
                found_.push_back(
                    {"",
                     fmt::format("impossible: {} as {} is less than {} L* from every fabric that may be {}",
                                 brief_.names[f], kit_.roles[at(role)], brief_.rules.contrast,
                                 kit_.roles[at(other)]),
                     "lower \"contrast\", leave the fabric out, or add one that is lighter or darker"});
            }
    }

    const Brief& brief_;
    const Kit& kit_;
    std::vector<Problem> found_;
};

} // namespace

std::vector<Problem> batch_obstacles(const Brief& brief) {
    return Kits(brief).look();
}

std::vector<std::string> batch_breaches(const Brief& brief, const std::vector<layout::FabricId>& slots) {
    const Kit& kit = brief.kit.value();
    const std::vector<char> same = layout::same_fabric(brief);
    std::vector<std::string> sentences;
    std::set<std::pair<int, int>> told;
    for (std::size_t m = 0; m < kit.makings.size(); ++m)
        for (std::size_t i = 0; i < kit.makings[m].size(); ++i)
            for (std::size_t j = i + 1; j < kit.makings[m].size(); ++j) {
                const int one = kit.makings[m][i], other = kit.makings[m][j];
                const std::size_t f = layout::index(slots[at(one)]), g = layout::index(slots[at(other)]);
                if (!same[f * brief.names.size() + g] || !told.emplace(one, other).second) continue;
                const std::string who = f == g ? fmt::format("{} is", brief.names[f])
                                               : fmt::format("{} and {} (too alike to tell apart) are",
                                                             brief.names[f], brief.names[g]);
                sentences.push_back(fmt::format("{} in making {} both as {} and as {}", who, m + 1,
                                                kit.roles[at(kit.slots[at(one)].role)],
                                                kit.roles[at(kit.slots[at(other)].role)]));
            }
    return sentences;
}

} // namespace motley::placement
