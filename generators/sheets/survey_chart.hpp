#pragma once

#include "calculations/survey_result.hpp"
#include "sheets/drawing.hpp"

namespace fitup::sheets {

/// The pattern to scale as it is seen facing the casting: points with their error ellipses and what readings
/// are off by, both enlarged by factors that stand on the page; spans, the best circle, suspects, axes, a
/// scale bar.
Drawing survey_chart(const calculations::SurveyResult& result);

}  // namespace fitup::sheets
