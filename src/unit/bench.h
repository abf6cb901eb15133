#pragma once
/// The sewing bench: named things on a table, the operations of a quilter on them, and the books: where every
/// square inch went. Each operation takes things by name, and puts what it makes back under a name; what it
/// starts from is gone, as cloth is. Faults name the step, what was found and what would do.
/// Words: a *thing* is a strip, a flat piece or a stack; a *pile* is several things alike under one name;
/// "quarters.2" is the second of a pile. Units: inches. Private to this folder.

#include <optional>
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include "measure/length.h"
#include "unit/said.h"
#include "unit/stack.h"
#include "unit/step.h"

namespace motley::unit {

/// A strip from which nothing has been cut: as long as it is asked to be.
struct Strip {
    int input = 0, piece = 0;
    double width = 0;
};

using Thing = std::variant<Strip, Flat, Stack>;

class Bench {
public:
    /// `seeking`: sizes are being tried; lengths are then not checked, nothing is recorded.
    Bench(std::string recipe, measure::System measure, double seam, bool seeking)
        : recipe_(std::move(recipe)), measure_(measure), said_(measure), seam_(seam), seeking_(seeking) {}

    /// Everything until the next `begin` is this step. `written`: which of the steps in the recipe it is,
    /// from 1; 0 is the cutting out, which no file writes.
    void begin(int number, int written, std::string verb);
    Step& step() { return step_; }
    [[noreturn]] void refuse(std::string what, std::string remedy) const;
    const Said& said() const { return said_; } ///< In the order's measure.

    void add_strip(const std::string& name, Strip strip);
    void add_piece(const std::string& name, Flat piece); ///< Its cloth is entered in the books.

    void show(const std::string& name); ///< As an outcome of this step.

    void strip_set(const std::vector<std::string>& strips, double length, Press press, const std::string& as);
    void cross_cut(const std::string& thing, double every, const std::string& as);
    void join(const Join& how, const std::string& as);
    void join_rows(const JoinRows& how, const std::string& as);
    void lay(const Lay& how, const std::string& as);
    void sew(const SewLines& how, const std::string& as);
    void cut(const CutLines& how, const std::string& as);
    void trim_seam(const std::string& thing, const std::string& as);
    void open(const Open& how, const std::string& as);
    /// A size that is missing is left as it is.
    void trim(const Trim& how, std::optional<double> width, std::optional<double> height,
              const std::string& as);
    /// `inputs`: those that `put` stands for.
    void turn(const Turn& how, const std::vector<int>& inputs, const std::string& as);

    std::vector<Flat> flats(const std::string& name) const;  ///< A look at a pile; all must lie flat.
    std::vector<std::pair<std::string, Flat>> lying() const; ///< All flat things on the table, by name.
    std::size_t count(const std::string& name) const;        ///< Things of that name that are still there.
    Ledger ledger() const;
    double seam() const { return seam_; }
    double length_of_strips(int input) const; ///< That were taken so far.

private:
    struct Pile {
        std::string name;
        std::vector<std::optional<Thing>> things;
    };

    std::vector<Thing> take(const std::string& name);
    std::vector<std::vector<Thing>> deal(const std::vector<std::string>& names);
    void put(const std::string& name, Thing thing);
    /// Where on the table a name's things lie: pile number, and [from, to) in it. At least one is there.
    struct Spot {
        std::size_t pile = 0, from = 0, to = 0;
    };
    Spot spot(const std::string& name) const;
    Flat flat(Thing thing, const std::string& name) const;
    Stack stack(Thing thing, const std::string& name) const;
    Flat cut_strip(const Strip& strip, const std::string& name, double length);
    Flat cut_to_fit(const Strip& strip, const std::string& name, const Flat& first, Side side);
    bool is_of_strips(const Flat& flat) const; ///< All of it was cut from strips.
    Flat joined(const Flat& first, const std::string& first_name, Flat second, const std::string& second_name,
                Side side, bool overhang, Press press) const;
    std::vector<Thing> parts(Thing whole, const std::vector<Line>& lines);
    template <class Layered>
    Layered keep(const Layered& thing, const Line& line); ///< What is left of it goes to the trimmings.
    void show_before(const std::string& name, const Thing& thing, std::vector<Mark> marks = {});
    void show_after(const std::string& name, const Thing& thing);

    std::string recipe_;
    measure::System measure_;
    Said said_;
    double seam_;
    bool seeking_;
    Step step_;
    int written_ = 0;
    std::vector<Pile> table_;
    std::vector<std::pair<int, double>> strips_taken_; ///< Input and length.
    double cloth_ = 0, trimmings_ = 0;
};

} // namespace motley::unit
