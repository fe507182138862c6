#pragma once

#include <memory>

#include "plan/finding.hpp"
#include "plan/plan.hpp"
#include "plan/skin.hpp"

namespace fitup::solid {

/// One closed, valid body of the modelling kernel. Cheap to copy, never empty; only questions can be asked of it.
class Solid {
  public:
    struct Impl;  ///< kernel types; defined in solid_impl.hpp, for solid/ and exchange/ sources alone
    explicit Solid(std::shared_ptr<const Impl> impl) : impl_(std::move(impl)) {}
    const Impl& impl() const { return *impl_; }

    double volume_mm3() const;
    double area_mm2() const;
    plan::Box box() const;

  private:
    std::shared_ptr<const Impl> impl_;
};

/// A body, or what only a body shows (cut in two, nothing left): then `solid` is empty and the findings are final stops.
struct Built {
    std::shared_ptr<const Solid> solid;
    plan::Findings findings;
};

/// The plan as one solid: the skin's faces made directly, what overlaps taken away in one boolean.
/// @throws KernelError when the kernel fails or gives anything but one closed valid solid.
Built build(const plan::Plan& plan, const plan::SkinResult& skin);

}  // namespace fitup::solid
