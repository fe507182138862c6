#pragma once

#include <string>
#include <vector>

#include "plan/plan.hpp"
#include "plan/profile.hpp"

namespace fitup::sheets {

/// A hole as a sheet shows it.
struct TemplateSpot {
    std::string id;
    plan::Point at;
    double radius_mm = 0.0;
    bool is_open = true;  ///< on the face that the sheet lies on
};

/// What is drawn, in mm of the part as the sheet shows it, and in words how it lies.
struct TemplateView {
    std::string suffix;
    std::string title;
    std::vector<std::string> words;
    std::vector<plan::ProfileCurve> curves;
    std::vector<plan::ProfileLine> lines;
    std::vector<TemplateSpot> spots;
};

/// The views that a part has templates of; none for a rod and for an arm without a blank.
std::vector<TemplateView> template_views(const plan::Plan& plan);

}  // namespace fitup::sheets
