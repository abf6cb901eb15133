/// Reading a photo, against what decoding it costs at least.

// clang-format off: jpeglib.h needs what cstdio declares.
#include <cstdio>
#include <jpeglib.h>
// clang-format on

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdint>
#include <cstdlib>
#include <memory>
#include <span>
#include <vector>

#include "bench.h"
#include "colour/space.h"
#include "photo/photo.h"

namespace motley::bench {

namespace {

/// A printed fabric, invented: repeated motifs on a ground, the weave over them, and noise.
std::vector<std::uint8_t> fabric_row(int width, int y, std::uint32_t& chance) {
    std::vector<std::uint8_t> row;
    row.reserve(3 * static_cast<std::size_t>(width));
    for (int x = 0; x < width; ++x) {
        const int u = x % 240 - 120;
        const int v = (y + (x / 240 % 2) * 120) % 240 - 120;
        const int radius = u * u + v * v;
        const int motif = radius < 2500 ? 2 : radius < 5200 && std::abs(u * v) % 900 < 400 ? 1 : 0;
        constexpr int inks[3][3] = {{52, 66, 118}, {216, 138, 92}, {240, 226, 190}};
        const int weave = ((x / 4 + y / 4) % 2 != 0 ? 9 : -9) + (x % 4 == 0 || y % 4 == 0 ? -7 : 4);
        for (int c = 0; c < 3; ++c) {
            chance = chance * 1664525U + 1013904223U;
            const int noise = static_cast<int>(chance >> 24) % 25 - 12;
            row.push_back(static_cast<std::uint8_t>(std::clamp(inks[motif][c] + weave + noise, 0, 255)));
        }
    }
    return row;
}

std::vector<std::byte> fabric_jpeg(int width, int height) {
    jpeg_compress_struct info{};
    jpeg_error_mgr errors{};
    info.err = jpeg_std_error(&errors);
    jpeg_create_compress(&info);
    unsigned char* out = nullptr;
    unsigned long size = 0;
    jpeg_mem_dest(&info, &out, &size);
    info.image_width = static_cast<JDIMENSION>(width);
    info.image_height = static_cast<JDIMENSION>(height);
    info.input_components = 3;
    info.in_color_space = JCS_RGB;
    jpeg_set_defaults(&info); // 4:2:0.
    jpeg_set_quality(&info, 90, TRUE);
    jpeg_start_compress(&info, TRUE);
    std::uint32_t chance = 2026;
    for (int y = 0; y < height; ++y) {
        std::vector<std::uint8_t> row = fabric_row(width, y, chance);
        JSAMPROW start = row.data();
        jpeg_write_scanlines(&info, &start, 1);
    }
    jpeg_finish_compress(&info);
    jpeg_destroy_compress(&info);
    const auto bytes = std::as_bytes(std::span(out, size));
    std::vector<std::byte> file(bytes.begin(), bytes.end());
    std::free(out);
    return file;
}

/// The peer: libjpeg-turbo with its own settings, one row buffer, nothing done with the rows unless `take`
/// does it.
template <class Take>
void decode(const std::vector<std::byte>& file, const Take& take) {
    jpeg_decompress_struct info{};
    jpeg_error_mgr errors{};
    info.err = jpeg_std_error(&errors);
    jpeg_create_decompress(&info);
    jpeg_mem_src(&info, reinterpret_cast<const unsigned char*>(file.data()),
                 static_cast<unsigned long>(file.size()));
    jpeg_read_header(&info, TRUE);
    info.out_color_space = JCS_RGB;
    jpeg_start_decompress(&info);
    std::vector<std::uint8_t> row(3 * static_cast<std::size_t>(info.output_width));
    JSAMPROW start = row.data();
    while (info.output_scanline < info.output_height) {
        jpeg_read_scanlines(&info, &start, 1);
        take(row);
    }
    jpeg_finish_decompress(&info);
    jpeg_destroy_decompress(&info);
}

colour::LinearRgb slow_mean(const std::vector<std::byte>& file) {
    double sums[3] = {0, 0, 0};
    double pixels = 0;
    decode(file, [&](const std::vector<std::uint8_t>& row) {
        for (std::size_t i = 0; i < row.size(); ++i) sums[i % 3] += colour::decode(row[i] / 255.0);
        pixels += static_cast<double>(row.size()) / 3;
    });
    return {sums[0] / pixels, sums[1] / pixels, sums[2] / pixels};
}

template <class Step>
double milliseconds(const Step& step) {
    const auto start = std::chrono::steady_clock::now();
    step();
    return std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - start).count();
}

double median(std::vector<double> numbers) {
    std::sort(numbers.begin(), numbers.end());
    return numbers[numbers.size() / 2];
}

} // namespace

std::string photo(const Options& options) {
    const int width = static_cast<int>(integer(options, "width", 4000, 16, 10'000));
    const int height = static_cast<int>(integer(options, "height", 3000, 16, 10'000));
    const int detail = static_cast<int>(integer(options, "detail", 1024, 16, 8192));
    const long rounds = integer(options, "rounds", 7, 1, 1000);
    const std::vector<std::byte> file = fabric_jpeg(width, height);

    std::vector<double> ours, peer;
    photo::Reading reading;
    for (long round = 0; round < rounds; ++round) {
        peer.push_back(milliseconds([&] { decode(file, [](const auto&) {}); }));
        ours.push_back(milliseconds([&] { reading = photo::read(file, "fabric.jpg", detail); }));
    }
    const colour::LinearRgb slow = slow_mean(file);
    const double error = std::max({std::abs(reading.mean.r - slow.r), std::abs(reading.mean.g - slow.g),
                                   std::abs(reading.mean.b - slow.b)});
    return fmt::format(
        R"({{"bench": "photo", "megapixels": {:.2f}, "file_bytes": {}, "detail": {}, "rounds": {}, )"
        R"("read_ms": {:.2f}, "decode_ms": {:.2f}, "ratio": {:.3f}, "aim": 1.4, "mean_error": {:.2e}}})",
        width * static_cast<double>(height) / 1e6, file.size(), detail, rounds, median(ours), median(peer),
        median(ours) / median(peer), error);
}

} // namespace motley::bench
