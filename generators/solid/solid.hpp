#pragma once

#include <memory>

#include "plan/finding.hpp"
#include "plan/plan.hpp"
#include "plan/skin.hpp"

namespace fitup::solid {

/// One closed, valid body of the modelling kernel. Cheap to copy, never empty; only questions can be asked of
/// it.
class Solid {
  public:
    /// The kernel's half, whose library is loaded on demand: hence virtual, so that callers need not link it.
    /// Its one heir holds the kernel's types (solid_impl.hpp, for solid/ and exchange/kernel_side/ sources
    /// alone).
    struct Impl {
        virtual ~Impl() = default;
        virtual double volume_mm3() const = 0;
        virtual double area_mm2() const = 0;
        virtual plan::Box box() const = 0;
    };
    explicit Solid(std::shared_ptr<const Impl> impl) : impl_(std::move(impl)) {}
    const Impl& impl() const { return *impl_; }

    /// Exact to 1e-14 on planes, cylinders and cones; from the body itself, not from its plan.
    double volume_mm3() const { return impl_->volume_mm3(); }
    double area_mm2() const { return impl_->area_mm2(); }
    plan::Box box() const { return impl_->box(); }

  private:
    std::shared_ptr<const Impl> impl_;
};

/// A body, or what only a body shows (cut in two, nothing left): then `solid` is empty and the findings are
/// final stops.
struct Built {
    std::shared_ptr<const Solid> solid;
    plan::Findings findings;
};

/// The plan as one solid: the skin's faces made directly, what overlaps taken away in one boolean.
/// @throws KernelError when the kernel fails or gives anything but one closed valid solid.
Built build(const plan::Plan& plan, const plan::SkinResult& skin);

}  // namespace fitup::solid
