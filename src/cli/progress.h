#pragma once
/// A bar on a terminal, silence elsewhere.

#include <functional>
#include <ostream>
#include <string>
#include <string_view>

namespace motley::cli {

/// Draws on one line of `err`; the line is wiped when the bar goes.
class Bar {
public:
    Bar(std::ostream& err, bool shown) : err_(err), shown_(shown) {}
    ~Bar();
    Bar(const Bar&) = delete;
    Bar& operator=(const Bar&) = delete;

    std::function<void(std::string_view, double)> teller();

private:
    std::ostream& err_;
    bool shown_;
    int drawn_ = -1; ///< Hundredths last drawn, so that the terminal is not flooded.
    std::string step_;
};

} // namespace motley::cli
