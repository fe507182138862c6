#include <cmath>

#include "base/error.hpp"
#include "base/text.hpp"
#include "exchange/dxf.hpp"
#include "exchange/make.hpp"

namespace fitup::exchange {

namespace {

/// Positions of a re-read file are held to this.
constexpr double dxf_within_mm = 1e-6;

}  // namespace

MadeFile make_dxf(const plan::Profile& profile, plan::Units units, const std::filesystem::path& path,
                  FileSet& files) {
    const std::string text = dxf_text(profile, units);
    const std::filesystem::path written = files.add(path, text);
    const auto apart_mm = difference_mm(profile, read_dxf(read_file(written), path.string()));
    if (!apart_mm || *apart_mm > dxf_within_mm)
        throw KernelError(
            path.filename().string() + " was read back and differs from the plan" +
            (apart_mm ? " by " + short_text(*apart_mm, 9) + " mm" : ": other curves or layers"));
    return {"dxf", path, text.size(), true,
            "read back: " + std::to_string(profile.curves.size() + profile.lines.size()) + " curves, worst " +
                shortest_text(std::round(*apart_mm * 1e9) / 1e9) + " mm"};
}

}  // namespace fitup::exchange
