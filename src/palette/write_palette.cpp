#include "palette/palette.h"
#include "palette/words.h"

namespace motley::palette {

namespace {

using document::Json;

Json triple(colour::Srgb srgb) {
    return Json::array({srgb.r, srgb.g, srgb.b});
}

template <typename Enumerator>
const std::string& word(const std::vector<std::string>& words, Enumerator value) {
    return words.at(static_cast<std::size_t>(value));
}

Json reading_json(const PhotoReading& reading) {
    Json json;
    json["by"] = word(by_words, reading.by);
    json["confidence"] = reading.confidence;
    if (reading.pixels_per_inch > 0) json["pixels_per_inch"] = reading.pixels_per_inch;
    if (reading.cut_out) json["cut_out"] = true;
    json["warnings"] = reading.warnings;
    return json;
}

Json colour_json(const FabricColour& said, measure::Length photo_width, measure::System measure,
                 bool readings) {
    const FabricColour colour = rounded(said);
    Json json;
    json["srgb"] = triple(colour.srgb);
    json["lab"] = Json::array({colour.lab.l, colour.lab.a, colour.lab.b});
    if (colour.value) json["value"] = word(value_words, *colour.value);
    json["from"] = word(from_words, colour.from);
    if (!colour.accents.empty()) {
        Json accents = Json::array();
        for (const Accent& accent : colour.accents)
            accents.push_back({{"srgb", triple(accent.srgb)}, {"share", accent.share}});
        json["accents"] = std::move(accents);
    }
    if (colour.busy != 0) json["busy"] = colour.busy;
    if (colour.print) json["print"] = write_print(*colour.print, photo_width, measure);
    if (!colour.photo_hash.empty()) json["photo_hash"] = colour.photo_hash;
    if (readings && colour.reading) json["reading"] = reading_json(*colour.reading);
    return json;
}

Json stock_json(const StockPiece& stock, measure::System measure) {
    Json json;
    json["piece"] = word(piece_words, stock.piece);
    json["width"] = measure::print_exact(stock.width, measure);
    if (stock.piece != StockPiece::Piece::square)
        json["length"] = measure::print_exact(stock.length, measure);
    if (stock.count != 1) json["count"] = stock.count;
    return json;
}

Json fabric_json(const Fabric& fabric, measure::System measure, bool readings) {
    Json json;
    json["id"] = fabric.id;
    if (fabric.name != fabric.id) json["name"] = fabric.name;
    if (!fabric.photo.empty()) json["photo"] = fabric.photo;
    // Said for every photo, default or not: it is the figure people will want to correct.
    if (!fabric.photo.empty() || fabric.photo_width != usual_photo_width)
        json["photo_width"] = measure::print_exact(fabric.photo_width, measure);
    if (!fabric.stock.empty()) {
        Json stock = Json::array();
        for (const StockPiece& piece : fabric.stock) stock.push_back(stock_json(piece, measure));
        json["stock"] = std::move(stock);
    }
    if (fabric.one_way || fabric.one_way_said) json["one_way"] = fabric.one_way;
    if (fabric.price) json["price"] = *fabric.price;
    if (fabric.value_said) json["value"] = word(value_words, *fabric.value_said);
    if (fabric.colour) json["colour"] = colour_json(*fabric.colour, fabric.photo_width, measure, readings);
    return json;
}

} // namespace

Json write_fabrics(const std::vector<Fabric>& fabrics, measure::System measure, bool readings) {
    Json list = Json::array();
    for (const Fabric& fabric : fabrics) list.push_back(fabric_json(fabric, measure, readings));
    return list;
}

Json write_palette(const Palette& palette) {
    Json json;
    json["format"] = palette_format;
    json["name"] = palette.name;
    json["measure"] = word(measure_words, palette.measure);
    json["fabrics"] = write_fabrics(palette.fabrics, palette.measure);
    return json;
}

} // namespace motley::palette
