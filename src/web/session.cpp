#include "web/session.h"

#include <fmt/format.h>

#include <algorithm>

#include "photo/photo.h"
#include "swatch/swatch.h"

namespace motley::web {

namespace fs = std::filesystem;
using document::Json;

Session::Session(const fs::path& where, const pipeline::Common& common)
    : common_(common),
      project_(where, common),
      cloths_(project_.folder() / ".cloth", common),
      worker_([this] { hub_.tell("done", "{}"); }),
      lister_([this](const std::stop_token& stop) { list_on(stop); }) {}

Session::~Session() {
    hub_.close();
    abandon();
}

void Session::abandon() {
    {
        const std::lock_guard lock(mutex_);
        ++round_;
    }
    worker_.stop();
}

void Session::changed() {
    ++revision_;
    refused_.clear();
    said_.clear();
    touched_.clear();
    list_wanted_.notify_all();
    hub_.tell("state", fmt::format("{{\"revision\":{}}}", revision_));
}

void Session::do_step(Handled handled) {
    ++round_; // A search that still runs started from what is gone now.
    worker_.stop();
    if (project_.step(handled.what, std::move(handled.next))) changed();
}

Json Session::view_locked() const {
    Json view = view_json(project_, geometries_);
    view["revision"] = revision_;
    view["running"] = worker_.running();
    view["said"] = said_;
    view["touched"] = touched_;
    Json candidates = Json::array();
    for (const layout::Layout& candidate : candidates_) {
        Json one = top_json(candidate, geometries_);
        one["spread"] = candidate.score.spread ? Json(*candidate.score.spread) : Json();
        one["value"] = candidate.score.value ? Json(*candidate.score.value) : Json();
        one["colour"] = candidate.score.colour ? Json(*candidate.score.colour) : Json();
        candidates.push_back(std::move(one));
    }
    view["candidates"] = std::move(candidates);
    if (!refused_.empty()) {
        const Json refused = troubles_json(refused_);
        view["refused"] = refused;
    }
    view["cloth_side"] = cloth_side(project_.plan().finished);
    return view;
}

Json Session::view() const {
    const std::lock_guard lock(mutex_);
    return view_locked();
}

Json Session::lists() const {
    const std::lock_guard lock(mutex_);
    return listed_ == revision_ ? lists_ : Json();
}

/// Lists follow every change a moment later: they take longer than a picture.
void Session::list_on(const std::stop_token& stop) {
    constexpr auto pause = std::chrono::milliseconds(250);
    std::unique_lock lock(mutex_);
    while (!stop.stop_requested()) {
        list_wanted_.wait(lock, stop, [&] { return listed_ != revision_; });
        const std::uint64_t seen = revision_;
        if (list_wanted_.wait_for(lock, stop, pause, [&] { return revision_ != seen; })) continue;
        if (stop.stop_requested()) return;
        Json lists;
        if (project_.outlook().layout) {
            const layout::Layout layout = *project_.outlook().layout;
            lock.unlock();
            try {
                lists = lists_json(layout);
            } catch (const Fault& fault) {
                lists = {{"fault", fault.what()}};
            }
            lock.lock();
        }
        if (revision_ != seen) continue;
        lists_ = std::move(lists);
        listed_ = seen;
        hub_.tell("lists", fmt::format("{{\"revision\":{}}}", seen));
    }
}

namespace {

std::string file_stem(const std::string& name) {
    constexpr std::size_t longest = 48;
    std::string stem;
    for (const char c : fs::path(name).stem().string().substr(0, longest))
        stem += (c >= '0' && c <= '9') || (c >= 'a' && c <= 'z') ? c
                : c >= 'A' && c <= 'Z'                           ? static_cast<char>(c | 0x20)
                                                                 : '-';
    while (!stem.empty() && stem.front() == '-') stem.erase(0, 1);
    while (!stem.empty() && stem.back() == '-') stem.pop_back();
    return stem.empty() ? "fabric" : stem;
}

const char* ending(photo::Format format) {
    switch (format) {
        case photo::Format::jpeg:
            return ".jpg";
        case photo::Format::png:
            return ".png";
        case photo::Format::webp:
            return ".webp";
        case photo::Format::heif:
            break;
    }
    return ".heic";
}

/// "plum-dot" as people say it.
std::string said_name(std::string stem) {
    std::replace(stem.begin(), stem.end(), '-', ' ');
    if (stem.front() >= 'a' && stem.front() <= 'z') stem.front() = static_cast<char>(stem.front() & ~0x20);
    return stem;
}

} // namespace

Json Session::add_photo(const std::string& name, const std::vector<std::byte>& bytes) {
    const photo::Header header =
        photo::header(bytes, document::shortened(name), {.pixels = common_.most_pixels});
    const std::string hash = document::content_hash(bytes);
    const std::lock_guard lock(mutex_);
    const palette::Palette& palette = project_.state().palette;
    for (const palette::Fabric& fabric : palette.fabrics)
        if (fabric.colour && fabric.colour->photo_hash == hash)
            throw Fault(Cause::input, document::shortened(name),
                        fmt::format("this very photo is on the shelf already, as {}", fabric.name));
    const auto taken = [&](const std::string& stem) {
        return fs::exists(palette.folder / (stem + ending(header.format))) ||
               std::any_of(palette.fabrics.begin(), palette.fabrics.end(),
                           [&](const palette::Fabric& one) { return one.id == stem; });
    };
    std::string stem = file_stem(name);
    if (taken(stem)) {
        int number = 2;
        while (taken(fmt::format("{}-{}", stem, number))) ++number;
        stem = fmt::format("{}-{}", stem, number);
    }
    const std::string file = stem + ending(header.format);
    document::write_files(palette.folder, {{file, bytes}});
    try {
        pipeline::SwatchRequest request;
        request.photos = {palette.folder / file};
        request.common = common_;
        const pipeline::Swatched swatched = pipeline::swatch(request);
        palette::Fabric fabric = swatched.palette.fabrics.front();
        fabric.photo = file;
        fabric.name = said_name(stem);
        palette::Palette next = palette;
        next.fabrics.push_back(std::move(fabric));
        swatch::set_values(next.fabrics);
        do_step(
            {project_.with_palette(std::move(next)), fmt::format("Put {} on the shelf", said_name(stem))});
    } catch (...) {
        std::error_code ignored;
        fs::remove(palette.folder / file, ignored);
        throw;
    }
    return view_locked();
}

std::vector<std::byte> Session::cloth(const std::string& fabric) const {
    palette::Fabric found;
    fs::path photos;
    double side = 0;
    {
        const std::lock_guard lock(mutex_);
        const palette::Palette& palette = project_.state().palette;
        const auto it = std::find_if(palette.fabrics.begin(), palette.fabrics.end(),
                                     [&](const palette::Fabric& one) { return one.id == fabric; });
        if (it == palette.fabrics.end() || it->photo.empty() || !it->colour)
            throw Fault(Cause::input, "", "there is no picture of such a fabric");
        found = *it;
        photos = palette.folder;
        side = cloth_side(project_.plan().finished);
    }
    return cloths_.picture(found, photos, side);
}

std::vector<std::byte> Session::exported(const std::string& name) const {
    const auto& names = export_names();
    if (std::find(names.begin(), names.end(), name) == names.end())
        throw Fault(Cause::input, "", "an export has no such file");
    return document::read_file(project_.folder() / "export" / name);
}

} // namespace motley::web
