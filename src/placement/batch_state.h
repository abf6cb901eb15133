#pragma once
/// Which fabric each slot of a kit has, and what that is worth: whole numbers throughout, so that a walk of
/// changes leaves the tally equal to a fresh count.
/// Words: *companions* are slots of one making; a *bundle* is the slots of one role in one making, where it
/// has several: the strips of a set.

#include <cstdint>
#include <vector>

#include "layout/brief.h"

namespace motley::placement {

/// A kit made ready for counting.
class KitModel {
public:
    explicit KitModel(const layout::Brief& brief);

    const layout::Brief& brief;
    const layout::Kit& kit;
    int slots, fabrics;

    struct Companion {
        int slot = 0;
        bool contrast = false; ///< Of another role and in one unit with it: the contrast rule holds.
        bool beside = false;   ///< They share a seam in some unit.
        bool one_role = false;
    };
    const std::vector<Companion>& companions(int slot) const {
        return companions_[static_cast<std::size_t>(slot)];
    }
    const std::vector<std::vector<int>>& bundles() const { return bundles_; }
    const std::vector<int>& bundles_of(int slot) const { return bundles_of_[static_cast<std::size_t>(slot)]; }
    int role(int slot) const { return kit.slots[static_cast<std::size_t>(slot)].role; }
    const std::vector<int>& slots_of(int role) const { return slots_of_[static_cast<std::size_t>(role)]; }
    /// Visible in all units together, 4096 to the unit; of a slot of the role on average.
    std::int64_t area(int slot) const { return area_[static_cast<std::size_t>(slot)]; }
    std::int64_t mean_area(int role) const { return mean_area_[static_cast<std::size_t>(role)]; }
    /// L* times 256; of the role's slots on average.
    std::int32_t light(int f) const { return light_[static_cast<std::size_t>(f)]; }
    std::int32_t mean_light(int role) const { return mean_light_[static_cast<std::size_t>(role)]; }
    bool same(int f, int g) const { return same_[static_cast<std::size_t>(f * fabrics + g)] != 0; }
    bool contrasts(int f, int g) const;
    /// 2^16 at most.
    std::int32_t likeness(int f, int g) const { return likeness_[static_cast<std::size_t>(f * fabrics + g)]; }

private:
    void find_companions();
    void find_bundles();
    void measure();

    std::vector<std::vector<Companion>> companions_;
    std::vector<std::vector<int>> bundles_, bundles_of_, slots_of_;
    std::vector<std::int64_t> area_, mean_area_;
    std::vector<std::int32_t> light_, mean_light_, likeness_;
    std::vector<char> same_;
};

struct BatchTally {
    std::int64_t broken = 0; ///< Companions of one fabric, or without the contrast asked.
    std::int64_t cost = 0;   ///< All wishes; 2^16 is about as bad as two strips of one colour sewn together.
    bool operator==(const BatchTally&) const = default;
};

class Batches {
public:
    Batches(const KitModel& model, const std::vector<int>& fabrics);

    const BatchTally& tally() const { return tally_; }
    int fabric(int slot) const { return fabric_[static_cast<std::size_t>(slot)]; }
    int uses(int role, int f) const { return uses_[static_cast<std::size_t>(role * model_.fabrics + f)]; }
    int uses(int f) const;
    bool in_trouble(int slot) const;

    void set(int slot, int f);
    void exchange(int i, int j) {
        const int f = fabric(i), g = fabric(j);
        set(i, g);
        set(j, f);
    }

private:
    static constexpr int nothing = -1;
    bool broken(const KitModel::Companion& companion, int f, int g) const;
    std::int64_t pair_cost(const KitModel::Companion& companion, int f, int g) const;
    std::int64_t bundle_cost(int bundle) const;
    void meet(int f, int g, int sign);
    void show(int slot, int f, int sign);

    const KitModel& model_;
    BatchTally tally_;
    std::vector<int> fabric_, uses_;     // [slot]; [role][fabric]
    std::vector<std::int64_t> bundle_;   // Sum of light.
    std::vector<std::int64_t> visible_;  // [role][fabric] area less uses times the mean.
    std::vector<std::int32_t> meetings_; // [fabric][fabric] pairs of companions.
};

} // namespace motley::placement
