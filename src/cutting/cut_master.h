#pragma once
/// The small linear program behind the prices of pieces: cover what is asked with the shortest mix of
/// patterns. Private to this folder. A revised simplex with the inverse of the basis at hand. Its figures
/// only guide; what is proved from them is checked again in whole numbers (`cut_prices.h`).

#include <cstddef>
#include <vector>

namespace motley::cutting {

/// A column: what it gives to each row it touches, and what it costs.
struct MasterColumn {
    struct Entry {
        int row = 0;
        double amount = 0;
    };
    std::vector<Entry> entries;
    double cost = 0;
};

/// Least cost so that row r gets at least `asked[r]`.
class Master {
public:
    /// `first` are columns of which number r touches row r alone and can meet it: asked / amount is at least
    /// 0.
    Master(std::vector<double> asked, std::vector<MasterColumn> first);

    /// Adds columns; gives the number of the first.
    std::size_t add(std::vector<MasterColumn> columns);

    /// Pivots until no column known so far would help.
    void solve();

    const std::vector<double>& prices() const { return prices_; } ///< Per row.
    double cost() const;
    double reduced_cost(const MasterColumn& column) const; ///< Below 0: worth adding.
    /// How much of each column, by its number; the first columns have the first numbers.
    std::vector<double> amounts() const;

private:
    bool pivot();
    void find_prices();
    double& inverse(std::size_t row, std::size_t column) { return inverse_[row * rows_ + column]; }

    std::size_t rows_;
    std::vector<double> asked_;
    std::vector<MasterColumn> columns_; ///< The given ones after `rows_` of slack: giving more than asked.
    std::vector<std::size_t> basis_;    ///< Per row, a column.
    std::vector<double> amount_;        ///< Per row, of its column.
    std::vector<double> inverse_;
    std::vector<double> prices_;
    std::vector<char> in_basis_;
};

} // namespace motley::cutting
