/// The whole job on photos as a phone makes them, against decoding the same photos and nothing else.

#include <fmt/format.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <atomic>
#include <chrono>
#include <csetjmp>
#include <cstdio>
// clang-format off: jpeglib.h wants stdio first.
#include <jpeglib.h>
// clang-format on
#include <algorithm>
#include <filesystem>
#include <stdexcept>
#include <thread>

#include "bench.h"
#include "document/document.h"
#include "painter/demo.h"
#include "painter/photograph.h"
#include "pipeline/fabrics.h"

namespace motley::bench {

namespace {

namespace fs = std::filesystem;
using Clock = std::chrono::steady_clock;

/// Paints photos of `width` by 3/4 `width` pixels into the folder, unless they are there already.
void paint_photos(const fs::path& folder, int photos, int width, long seed) {
    const std::vector<painter::Design> designs =
        painter::invented_designs(static_cast<std::uint64_t>(seed), photos);
    for (int i = 0; i < photos; ++i) {
        const std::string name = fmt::format("cloth-{:02}.jpg", i);
        if (fs::exists(folder / name)) continue;
        const painter::Cloth cloth =
            painter::paint(designs[static_cast<std::size_t>(i)], width, width / 5.0, width * 3 / 4);
        // As grainy as a phone by evening light: files of about 4 MB, as phones write them.
        painter::Camera camera = painter::phone(static_cast<std::uint64_t>(seed + i));
        camera.noise = 0.08;
        const painter::Photo photo = painter::photograph(cloth, camera);
        document::write_files(folder, {{name, painter::encode_jpeg(photo, 94)}});
    }
}

/// Row by row into one row buffer: what any reader of a JPEG must do.
void decode(const std::vector<std::byte>& bytes) {
    jpeg_decompress_struct jpeg{};
    jpeg_error_mgr errors{};
    jpeg.err = jpeg_std_error(&errors);
    jpeg_create_decompress(&jpeg);
    jpeg_mem_src(&jpeg, reinterpret_cast<const unsigned char*>(bytes.data()),
                 static_cast<unsigned long>(bytes.size()));
    jpeg_read_header(&jpeg, TRUE);
    jpeg_start_decompress(&jpeg);
    std::vector<JSAMPLE> row(std::size_t{jpeg.output_width} *
                             static_cast<std::size_t>(jpeg.output_components));
    JSAMPROW rows[] = {row.data()};
    while (jpeg.output_scanline < jpeg.output_height) jpeg_read_scanlines(&jpeg, rows, 1);
    jpeg_finish_decompress(&jpeg);
    jpeg_destroy_decompress(&jpeg);
}

double cpu_seconds(const rusage& usage) {
    const auto seconds = [](const timeval& t) {
        return static_cast<double>(t.tv_sec) + static_cast<double>(t.tv_usec) / 1e6;
    };
    return seconds(usage.ru_utime) + seconds(usage.ru_stime);
}

double own_cpu_seconds() {
    rusage usage{};
    getrusage(RUSAGE_SELF, &usage);
    return cpu_seconds(usage);
}

double seconds_to_decode_all(const fs::path& folder, int threads) {
    std::vector<fs::path> photos;
    for (const auto& entry : fs::directory_iterator(folder))
        if (entry.path().extension() == ".jpg") photos.push_back(entry.path());
    const auto began = Clock::now();
    pipeline::in_parallel(static_cast<int>(photos.size()), threads,
                          [&](int i) { decode(document::read_file(photos[static_cast<std::size_t>(i)])); });
    return std::chrono::duration<double>(Clock::now() - began).count();
}

struct Run {
    double seconds = 0;
    double cpu = 0;
    double peak_megabytes = 0;
};

/// The program itself, as a user starts it, in a process of its own.
Run run_program(const std::string& program, const fs::path& plan, const fs::path& out, int threads) {
    const auto began = Clock::now();
    const pid_t child = fork();
    if (child == 0) {
        const std::string count = std::to_string(threads);
        if (!std::freopen("/dev/null", "w", stdout)) _exit(126);
        execl(program.c_str(), program.c_str(), "make", plan.c_str(), "--out", out.c_str(), "--threads",
              count.c_str(), nullptr);
        _exit(127);
    }
    int status = 0;
    rusage usage{};
    if (child < 0 || wait4(child, &status, 0, &usage) < 0 || status != 0)
        throw std::runtime_error("the program did not do its job: " + program);
    return {std::chrono::duration<double>(Clock::now() - began).count(), cpu_seconds(usage),
            static_cast<double>(usage.ru_maxrss) / 1024};
}

double median(std::vector<double> figures) {
    std::nth_element(figures.begin(), figures.begin() + static_cast<std::ptrdiff_t>(figures.size() / 2),
                     figures.end());
    return figures[figures.size() / 2];
}

} // namespace

std::string make(const Options& options) {
    const int photos = static_cast<int>(integer(options, "photos", 30, 1, 500));
    const int width = static_cast<int>(integer(options, "width", 4000, 100, 12'000));
    const int threads = static_cast<int>(integer(options, "threads", 2, 1, 64));
    const int rounds = static_cast<int>(integer(options, "rounds", 3, 1, 100));
    const fs::path self = fs::read_symlink("/proc/self/exe");
    const fs::path folder = options.contains("folder") ? fs::path(options.at("folder"))
                                                       : fs::temp_directory_path() / "motley-bench-make";
    paint_photos(folder / "cloths", photos, width, integer(options, "seed", 1, 0, 1'000'000));
    const fs::path plan = folder / "plan.json";
    document::write_files(
        folder, {{"plan.json",
                  document::bytes_of(R"({"palette": "cloths", "setting": {"columns": 11, "rows": 13}})")}});
    double megabytes = 0;
    for (const auto& entry : fs::directory_iterator(folder / "cloths"))
        if (entry.path().extension() == ".jpg")
            megabytes += static_cast<double>(entry.file_size()) / 1e6 / photos;
    std::vector<double> ours, floor, ratios, peaks, cpu_ratios;
    for (int round = 0; round < rounds; ++round) {
        const double cpu_before = own_cpu_seconds();
        floor.push_back(seconds_to_decode_all(folder / "cloths", threads));
        const double decoding_cpu = own_cpu_seconds() - cpu_before;
        const Run run = run_program((self.parent_path() / "motley").string(), plan, folder / "out", threads);
        ours.push_back(run.seconds);
        peaks.push_back(run.peak_megabytes);
        cpu_ratios.push_back(run.cpu / decoding_cpu);
        ratios.push_back(ours.back() / floor.back());
    }
    return fmt::format(
        R"({{"name": "make", "photos": {}, "megapixels": {:.1f}, "megabytes": {:.1f}, "threads": {}, "seconds": {:.3f}, "decoding_seconds": {:.3f}, "ratio": {:.3f}, "cpu_ratio": {:.3f}, "peak_megabytes": {:.0f}}})",
        photos, width * (width * 3 / 4) / 1e6, megabytes, threads, median(ours), median(floor),
        median(ratios), median(cpu_ratios), median(peaks));
}

} // namespace motley::bench
