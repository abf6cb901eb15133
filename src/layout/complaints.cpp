#include "layout/complaints.h"

#include <fmt/format.h>

namespace motley::layout {

void Complaints::add(std::string where, std::string what, std::string remedy) {
    if (full())
        ++more_;
    else
        problems_.push_back({std::move(where), std::move(what), std::move(remedy)});
}

void Complaints::raise() const {
    if (problems_.empty()) return;
    std::vector<Problem> all = problems_;
    if (more_ > 0) all.push_back({"", fmt::format("... and {} more like these", more_), ""});
    throw Fault(Cause::input, std::move(all));
}

std::string suggestion(std::string_view word, const std::vector<std::string>& known,
                       std::string_view otherwise) {
    if (const std::string near = nearest(word, known); !near.empty())
        return fmt::format("did you mean {}?", in_quotes(near));
    if (known.empty() || known.size() > 8) return std::string(otherwise);
    return fmt::format("it may be {}", document::listed(known));
}

std::string pointer_step(std::string_view key) {
    std::string step;
    for (const char letter : key) {
        if (letter == '~')
            step += "~0";
        else if (letter == '/')
            step += "~1";
        else
            step += letter;
    }
    return step;
}

} // namespace motley::layout
