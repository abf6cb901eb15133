#include "render/steps.h"

#include <fmt/format.h>

#include "document/document.h"
#include "photo/photo.h"
#include "pipeline/pipeline.h"

namespace motley::pipeline {

std::vector<std::string> draw_steps(const unit::Sewn& sewn, const std::filesystem::path& folder) {
    std::vector<document::Output> files;
    std::vector<std::string> names;
    for (const unit::Step& step : sewn.steps) {
        names.push_back(fmt::format("step-{:02}.png", step.number));
        files.push_back({names.back(), photo::encode_png(render::draw_step(step, sewn.inputs))});
    }
    document::write_files(folder, files);
    return names;
}

} // namespace motley::pipeline
