#pragma once
/// How the program says that something outside it is wrong, or that a promise inside it was broken.
/// In: what was looked at, what was found, what would be right. Out: an exception that `cli` turns into words
/// and an exit code. Messages are complete sentences a quilter can act on; no step adds to them later.

#include <source_location>
#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

namespace motley {

/// What kind of thing is wrong. The number is the exit code.
enum class Cause {
    unmet = 1,  ///< The plan is readable but cannot be met as asked.
    input = 2,  ///< The command line or an input file is wrong.
    system = 3, ///< Reading or writing failed.
};

/// One thing that is wrong.
struct Problem {
    std::string
        where; ///< File, then JSON pointer where there is one: "plan.json /setting/rows". May be empty.
    std::string what;   ///< What was found, with the offending fragment.
    std::string remedy; ///< What would be right. May be empty.
};

/// Thrown when a step cannot go on. Holds one problem or several; never none.
class Fault : public std::runtime_error {
public:
    Fault(Cause cause, std::string where, std::string what, std::string remedy = {});
    Fault(Cause cause, std::vector<Problem> problems);

    Cause cause() const { return cause_; }
    const std::vector<Problem>& problems() const { return problems_; }

private:
    Cause cause_;
    std::vector<Problem> problems_;
};

/// "where: what (remedy)", one line per problem.
std::string text(const std::vector<Problem>& problems);

/// A promise inside the program: throws std::logic_error naming the source line when it does not hold. On in
/// every build.
void expects(bool holds, std::source_location place = std::source_location::current());

/// The candidate nearest to `word` by edit distance, or an empty text when none is close
/// (more than a third of the word's letters, at least two, would have to change).
std::string nearest(std::string_view word, const std::vector<std::string>& candidates);

} // namespace motley
