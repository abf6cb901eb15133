#include "cli/progress.h"

#include <fmt/format.h>

namespace motley::cli {

Bar::~Bar() {
    if (drawn_ >= 0) err_ << "\r\033[K" << std::flush;
}

std::function<void(std::string_view, double)> Bar::teller() {
    if (!shown_) return {};
    return [this](std::string_view step, double share) {
        const int hundredths = static_cast<int>(share * 100);
        if (step == step_ && hundredths == drawn_) return;
        step_ = step;
        drawn_ = hundredths;
        constexpr int width = 30;
        const int full = static_cast<int>(share * width);
        std::string bar;
        for (int i = 0; i < width; ++i) bar += i < full ? "━" : "╌";
        err_ << fmt::format("\r\033[K{:<15} {} {:3} %", step_, bar, hundredths) << std::flush;
    };
}

} // namespace motley::cli
