#include "render/type.h"

namespace motley::render {

std::string Text::words() const {
    std::string all;
    for (const Run& run : runs_) all += run.words;
    return all;
}

Text Text::from(std::size_t byte) const {
    Text rest;
    for (const Run& run : runs_) {
        if (byte >= run.words.size()) {
            byte -= run.words.size();
            continue;
        }
        rest.add_run({run.words.substr(byte), run.bold});
        byte = 0;
    }
    return rest;
}

} // namespace motley::render
