#include "unit/recipe.h"

#include "unit/shipped.h"

namespace motley::unit {

const std::vector<Recipe>& recipes() {
    static const std::vector<Recipe> all = [] {
        std::vector<Recipe> read;
        for (const Shipped& shipped : shipped_recipes()) {
            const document::Json json = document::parse(shipped.text, shipped.file);
            read.push_back(read_recipe(document::Node(json, shipped.file)));
        }
        return read;
    }();
    return all;
}

const Recipe* find_recipe(std::string_view id) {
    for (const Recipe& recipe : recipes())
        if (recipe.id == id) return &recipe;
    return nullptr;
}

} // namespace motley::unit
