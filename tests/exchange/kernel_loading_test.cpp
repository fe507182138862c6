#include <gtest/gtest.h>

#include "base/error.hpp"
#include "exchange/load_kernel.hpp"

namespace fitup::exchange {
namespace {

std::string reason(const char* library) {
    try {
        load_kernel(library);
        return "";
    } catch (const KernelError& error) {
        return error.what();
    }
}

TEST(KernelLoading, a_missing_or_wrong_library_is_told_in_words) {
    EXPECT_TRUE(reason("libno-such-kernel.so")
                    .starts_with("the modelling kernel can't be loaded: libno-such-kernel.so: "));
    EXPECT_NE(reason("libm.so.6").find("fitup_kernel"), std::string::npos);
}

TEST(KernelLoading, the_kernel_is_loaded_once) { EXPECT_EQ(&kernel(), &kernel()); }

}  // namespace
}  // namespace fitup::exchange
