#pragma once
/// What the names in a recipe's sizes stand for in one run. Private to this folder.

#include <string>
#include <vector>

#include "unit/sewn.h"

namespace motley::unit {

class Values {
public:
    /// What the order says and the recipe's standards; unknowns are missing unless chosen. Faults for choices
    /// that the recipe does not know or that are out of range.
    Values(const Recipe& recipe, const Order& order);

    void set(const std::string& name, double inches);
    bool has(const std::string& name) const;
    /// Of the copy-th input, where there is a list. Expects that it is known and no word.
    double of(const std::string& name, std::size_t copy = 0) const;
    double of(const Expression& size, std::size_t copy = 0) const;
    const std::string& word(const std::string& name) const;
    std::size_t list_size(const std::string& name) const; ///< 1 unless a list was chosen.

private:
    struct Value {
        std::string name;
        std::vector<double> numbers;
        std::string word;
    };
    const Value* find(const std::string& name) const;

    std::vector<Value> known_;
};

/// The next mark of the ruler: 1/8 in or 5 mm; a size that lies on 1/16 in or 1 mm already is kept.
/// `generous`: to 1/2 in or 1 cm, for what is trimmed anyway.
measure::Length usual_size(double inches, measure::System measure, bool generous = false);

} // namespace motley::unit
