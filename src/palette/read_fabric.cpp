#include "palette/read_fabric.h"

#include <fmt/format.h>

#include "palette/words.h"

namespace motley::palette {

namespace {

using document::Node;
using measure::Length;

constexpr Length an_inch{Length::per_inch};
constexpr Length usual_usable_width = an_inch * 42; // Common practice, no source.
constexpr std::size_t longest_id = 64;
constexpr std::size_t most_warnings = 20;
constexpr std::size_t longest_name = 200;
constexpr std::size_t longest_path = 1024;

bool has_control(std::string_view text) {
    for (const char c : text)
        if (static_cast<unsigned char>(c) < 0x20 || c == 0x7F) return true;
    return false;
}

std::string read_id(const Node& node) {
    std::string id = node.text();
    if (const std::string trouble = trouble_with_id(id); !trouble.empty())
        node.refuse(fmt::format("{} is no fabric id: {}", document::in_quotes(id), trouble),
                    "give a short name such as \"plum-dot\"");
    return id;
}

// A palette may come from a stranger: it names files of its own folder and no others.
std::string read_photo(const Node& node) {
    const std::string said = node.text();
    const std::filesystem::path path = std::filesystem::path(said).lexically_normal();
    if (said.empty() || said.size() > longest_path || has_control(said) || !path.has_filename() ||
        path == ".")
        node.refuse(fmt::format("{} is no file's name", document::in_quotes(said)),
                    "give the file name of the photo");
    if (path.is_absolute() || *path.begin() == "..")
        node.refuse(fmt::format("the photo {} is outside the palette's folder", document::in_quotes(said)),
                    "copy it into the folder and give its name there");
    return path.generic_string();
}

colour::Srgb read_srgb(const Node& node) {
    const std::vector<Node> items = node.items();
    if (items.size() != 3)
        node.refuse(fmt::format("found a list of {}", items.size()),
                    "give three whole numbers from 0 to 255: red, green, blue");
    const auto channel = [](const Node& item) { return static_cast<std::uint8_t>(item.integer(0, 255)); };
    return {channel(items[0]), channel(items[1]), channel(items[2])};
}

colour::Lab read_lab(const Node& node) {
    const std::vector<Node> items = node.items();
    if (items.size() != 3)
        node.refuse(fmt::format("found a list of {}", items.size()),
                    "give three numbers: L from 0 to 100, then a and b from -200 to 200");
    return {items[0].number(0, 100), items[1].number(-200, 200), items[2].number(-200, 200)};
}

colour::Value read_value(const Node& node) {
    return static_cast<colour::Value>(node.choice(value_words));
}

std::vector<Accent> read_accents(const Node& list) {
    std::vector<Accent> accents;
    for (const Node& item : list.items()) {
        if (accents.size() == most_accents)
            list.refuse(fmt::format("found {} accents", list.json().size()),
                        fmt::format("give at most {}", most_accents));
        item.allow_only({"srgb", "share"});
        const Node share = item.at("share");
        const Accent accent{read_srgb(item.at("srgb")), share.number(0, 1)};
        if (accent.share < 0.0001) share.refuse("an accent that covers nothing", "leave it out");
        if (!accents.empty() && accents.back().share < accent.share)
            item.refuse("this accent is larger than the one before it", "give the largest share first");
        accents.push_back(accent);
    }
    return accents;
}

PhotoReading read_reading(const Node& node) {
    node.allow_only({"by", "confidence", "pixels_per_inch", "cut_out", "warnings"});
    PhotoReading reading;
    reading.by = static_cast<PhotoReading::By>(node.at("by").choice(by_words));
    reading.confidence = node.at("confidence").number(0, 1);
    if (const auto scale = node.find("pixels_per_inch")) reading.pixels_per_inch = scale->number(0, 100'000);
    if (const auto cut = node.find("cut_out")) reading.cut_out = cut->boolean();
    if (const auto warnings = node.find("warnings"))
        for (const Node& warning : warnings->items()) {
            if (reading.warnings.size() == most_warnings)
                warnings->refuse(fmt::format("found {} warnings", warnings->json().size()),
                                 fmt::format("motley writes at most {}; leave them out", most_warnings));
            reading.warnings.push_back(read_name(warning));
        }
    return reading;
}

FabricColour read_colour(const Node& node, Length photo_width, measure::System measure) {
    node.allow_only({"srgb", "lab", "value", "from", "accents", "busy", "print", "photo_hash", "reading"});
    const auto srgb = node.find("srgb");
    const auto lab = node.find("lab");
    if (!srgb && !lab)
        node.refuse("a colour needs \"srgb\" or \"lab\"", R"(such as {"srgb": [118, 42, 71]})");
    FabricColour colour = lab ? typed_colour(read_lab(*lab)) : typed_colour(read_srgb(*srgb));
    if (srgb) colour.srgb = read_srgb(*srgb);
    if (const auto value = node.find("value")) colour.value = read_value(*value);
    if (const auto from = node.find("from"))
        colour.from = static_cast<FabricColour::From>(from->choice(from_words));
    if (const auto accents = node.find("accents")) colour.accents = read_accents(*accents);
    if (const auto busy = node.find("busy")) colour.busy = busy->number(0, 1);
    if (const auto print = node.find("print")) colour.print = read_print(*print, photo_width, measure);
    if (const auto hash = node.find("photo_hash")) {
        colour.photo_hash = hash->text();
        if (colour.photo_hash.size() != 16 ||
            colour.photo_hash.find_first_not_of("0123456789abcdef") != std::string::npos)
            hash->refuse("found " + document::in_quotes(colour.photo_hash),
                         "motley writes 16 digits here; leave it out when typing a colour");
    }
    if (const auto reading = node.find("reading")) colour.reading = read_reading(*reading);
    return rounded(std::move(colour));
}

StockPiece read_stock_piece(const Node& node, measure::System measure) {
    node.allow_only({"piece", "width", "length", "count"});
    StockPiece stock;
    stock.piece = static_cast<StockPiece::Piece>(node.at("piece").choice(piece_words));
    if (const auto count = node.find("count")) stock.count = static_cast<int>(count->integer(1, 100'000));
    const auto side = [&](const char* key, std::optional<Length> usual) {
        const auto said = node.find(key);
        if (!said && usual) return *usual;
        return read_length(said ? *said : node.at(key), measure, Length{Length::per_inch / 8});
    };
    switch (stock.piece) {
        case StockPiece::Piece::strip:
            stock.width = side("width", std::nullopt);
            stock.length = side("length", usual_usable_width);
            break;
        case StockPiece::Piece::square:
            stock.width = side("width", std::nullopt);
            stock.length = side("length", stock.width);
            if (stock.length != stock.width)
                node.refuse("a square with two different sides", "give its width alone, or call it a scrap");
            break;
        case StockPiece::Piece::scrap:
            stock.width = side("width", std::nullopt);
            stock.length = side("length", std::nullopt);
            break;
        case StockPiece::Piece::fat_quarter: // Half a yard, half the width of the cloth: 18 x 22 in, common
                                             // practice.
            stock.width = side("width", an_inch * 22);
            stock.length = side("length", an_inch * 18);
            break;
        case StockPiece::Piece::yardage:
            stock.width = side("width", usual_usable_width);
            stock.length = side("length", std::nullopt);
            break;
    }
    return stock;
}

} // namespace

std::string trouble_with_id(std::string_view id) {
    if (id.empty()) return "it is empty";
    if (id.size() > longest_id) return fmt::format("it is longer than {} bytes", longest_id);
    if (has_control(id)) return "it holds a control character";
    if (id.find('*') != std::string_view::npos) return "* stands for all fabrics";
    return {};
}

std::string read_name(const Node& node) {
    std::string name = node.text();
    if (name.empty() || name.size() > longest_name || has_control(name))
        node.refuse("found " + document::in_quotes(name),
                    fmt::format("give a name of 1 to {} bytes without control characters", longest_name));
    return name;
}

Length read_length(const Node& node, measure::System measure, Length least, Length most) {
    Length length;
    if (node.is_number())
        length = measure::length_of(node.number(), measure, node.where());
    else if (node.is_text())
        length = measure::read_length(node.text(), measure, node.where());
    else
        node.refuse("a length belongs here", R"(write a number, or a text such as "6 1/2" or "16 cm")");
    if (length < least || length > most) {
        const std::string found =
            node.is_text() ? document::in_quotes(node.text()) : document::shortened(node.json().dump());
        node.refuse("found " + found,
                    fmt::format("give a length from {} to {}", measure::print(least, measure),
                                measure::print(most, measure)));
    }
    return length;
}

Fabric read_fabric(const Node& node, measure::System measure) {
    node.allow_only({"id", "name", "photo", "photo_width", "stock", "one_way", "price", "value", "colour"});
    Fabric fabric;
    fabric.id = read_id(node.at("id"));
    const auto name = node.find("name");
    fabric.name = name ? read_name(*name) : fabric.id;
    if (const auto photo = node.find("photo")) fabric.photo = read_photo(*photo);
    if (const auto width = node.find("photo_width"))
        fabric.photo_width = read_length(*width, measure, Length{Length::per_inch / 4}, an_inch * 120);
    if (const auto stock = node.find("stock"))
        for (const Node& piece : stock->items()) fabric.stock.push_back(read_stock_piece(piece, measure));
    if (const auto one_way = node.find("one_way")) {
        fabric.one_way = one_way->boolean();
        fabric.one_way_said = true;
    }
    if (const auto price = node.find("price")) fabric.price = price->number(0, 1'000'000);
    if (const auto value = node.find("value")) fabric.value_said = read_value(*value);
    if (const auto colour = node.find("colour")) {
        fabric.colour = read_colour(*colour, fabric.photo_width, measure);
        // Motley itself always writes "from": a value without it was typed by a person.
        if (!fabric.value_said && !colour->find("from")) fabric.value_said = fabric.colour->value;
    }
    if (fabric.photo.empty() && !fabric.colour)
        node.refuse(
            fmt::format("the fabric {} has neither a photo nor a colour", document::in_quotes(fabric.id)),
            R"(add "photo": "FILE" or "colour": {"srgb": [118, 42, 71]})");
    return fabric;
}

} // namespace motley::palette
