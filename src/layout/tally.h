#pragma once
/// Turns the counts of a plan into ranges by role and fabric that can be met together, or says why they
/// cannot.

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "layout/apportion.h"
#include "layout/brief.h"
#include "layout/complaints.h"

namespace motley::layout {

/// Which pins hold a fabric in a role, in file order: [role][fabric] -> indexes into Plan::pins, one for each
/// patch.
using PinUses = std::vector<std::vector<std::vector<int>>>;

struct Tally {
    Bounds ranges;
    Table shares; ///< Within the ranges, pins kept.
    std::vector<Problem>
        short_stock; ///< When not empty the stock, and nothing else, is short; the rest is then empty.
};

/// What gets fabrics by count: the patches of a place in every unit, or pieces to be cut for one input.
struct Role {
    std::string name;
    int places = 0; ///< How many.
};

/// `names` are the fabrics', `counted` what is counted, for people. Empty when a complaint was added.
enum class Counted : std::uint8_t { patches, pieces };
std::optional<Tally> tally(const Plan& plan, Counted counted, const std::vector<std::string>& names,
                           const std::vector<Role>& roles, const std::vector<std::vector<char>>& takers,
                           const std::vector<int>& yields, const PinUses& pins, Complaints& complaints);

} // namespace motley::layout
