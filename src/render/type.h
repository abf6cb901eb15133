#pragma once
/// Words for printed pages: what they say, how they are set. Units: points, 1/72 in.

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace motley::render {

/// sRGB, each [0, 1].
struct Ink {
    double r = 0, g = 0, b = 0;
};

/// The inks of the pages: near black, one accent that prints as a dark grey, and greys.
namespace inks {
inline constexpr Ink text{0.13, 0.13, 0.14}, quiet{0.38, 0.38, 0.40}, accent{0.04, 0.36, 0.40},
    wash{0.925, 0.945, 0.945}, hairline{0.72, 0.74, 0.75}, paper{1, 1, 1}, blade{0.70, 0.13, 0.12};
}

enum class Side : std::uint8_t { left, middle, right };

/// How words are set.
struct Type {
    double size = 10;
    bool bold = false;
    bool italic = false;
    bool display = false; ///< The face of titles.
    Ink ink = inks::text;
    Side side = Side::left; ///< Where lines stand in their room.
    double leading = 1.28;  ///< From line to line, times what the face itself asks for.
};

struct Run {
    std::string words;
    bool bold = false;
};

/// Words, some of them bold. What a file brings is printed as it is, never taken for marks.
class Text {
public:
    Text() = default;
    Text(std::string words) { add(std::move(words)); }
    Text(const char* words) { add(words); }
    Text& add(std::string words) { return add_run({std::move(words), false}); }
    Text& strong(std::string words) { return add_run({std::move(words), true}); }

    const std::vector<Run>& runs() const { return runs_; }
    Text& add_run(Run run) {
        runs_.push_back(std::move(run));
        return *this;
    }
    std::string words() const;         ///< All runs, plain.
    Text from(std::size_t byte) const; ///< Without the first bytes of words().

private:
    std::vector<Run> runs_;
};

inline Text strong(std::string words) {
    return Text().strong(std::move(words));
}

} // namespace motley::render
