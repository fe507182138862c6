#pragma once

#include <gtest/gtest.h>
#include <rapidcheck.h>

#include <sstream>
#include <utility>

namespace fitup::plan {

/// Runs a rapidcheck property on FITUP_PROPERTY_CASES random cases. The seed is fixed so that a run can be
/// repeated; a failure prints the shrunken case.
template <typename Property>
void for_random_cases(Property&& property, int cases = FITUP_PROPERTY_CASES, unsigned seed = 20240229) {
    rc::detail::TestParams params;
    params.seed = seed;
    params.maxSuccess = cases;
    const auto result =
        rc::detail::checkTestable(std::forward<Property>(property), rc::detail::TestMetadata(), params);
    std::ostringstream message;
    rc::detail::printResultMessage(result, message);
    EXPECT_TRUE(result.template is<rc::detail::SuccessResult>()) << "seed " << seed << ": " << message.str();
}

}  // namespace fitup::plan
