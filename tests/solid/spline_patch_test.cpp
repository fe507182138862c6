// Boxes and areas of spline faces: against what the thread is, and against the kernel's own search.
#include <gtest/gtest.h>

#include <BRepBndLib.hxx>
#include <BRepGProp.hxx>
#include <Bnd_Box.hxx>
#include <GProp_GProps.hxx>
#include <gp_Ax1.hxx>

#include "solid/solid_impl.hpp"
#include "solid/threads.hpp"

namespace fitup::solid {
namespace {

plan::ThreadedLength m6(double length_mm) {
    return {plan::thread_form(plan::ThreadProfile::iso_and_unified, 6.0, 1.0), plan::ThreadSide::external,
            plan::Hand::right, length_mm, plan::ThreadEnd::run_out};
}

plan::Box box_of(const TopoDS_Shape& shape) { return amounts_of(shape).box; }

TEST(SplinePatch, area_of_a_stud_is_what_the_kernel_integrates) {
    const TopoDS_Solid stud = threaded_stud(m6(3), 2);
    GProp_GProps kernels;
    BRepGProp::SurfaceProperties(stud, kernels, 1e-7);
    EXPECT_NEAR(amounts_of(stud).area_mm2, kernels.Mass(), 1e-6 * kernels.Mass());
}

/// The kernel gives each box of a face of its own kinds a tenth of a micrometre of room.
constexpr double kernels_room_mm = 2e-7;

TEST(SplinePatch, box_of_a_stud_is_its_major_diameter_and_length) {
    const plan::Box box = box_of(threaded_stud(m6(12), 5));
    for (const std::size_t axis : {0u, 1u}) {
        EXPECT_NEAR(box.most[axis], 3.0, kernels_room_mm);
        EXPECT_NEAR(box.least[axis], -3.0, kernels_room_mm);
    }
    EXPECT_NEAR(box.least[2], 0.0, kernels_room_mm);
    EXPECT_NEAR(box.most[2], 12.0 + 1.0 + 5.0, kernels_room_mm);
}

TEST(SplinePatch, box_of_a_turned_stud_is_what_the_kernel_finds) {
    gp_Trsf place;
    place.SetRotation(gp_Ax1(gp::Origin(), gp_Dir(1, 2, 0.5)), 0.7);
    place.SetTranslationPart(gp_Vec(30, -4, 11));
    const TopoDS_Solid stud = threaded_stud(m6(3), 2, place);
    const plan::Box box = box_of(stud);
    Bnd_Box kernels;
    BRepBndLib::AddOptimal(stud, kernels, false, false);
    plan::Point3 least, most;
    kernels.Get(least[0], least[1], least[2], most[0], most[1], most[2]);
    for (const std::size_t axis : {0u, 1u, 2u}) {
        // The kernel's search is the coarser one; neither may lie inside the other by more than it can see.
        EXPECT_NEAR(box.most[axis], most[axis], 1e-5);
        EXPECT_NEAR(box.least[axis], least[axis], 1e-5);
    }
}

}  // namespace
}  // namespace fitup::solid
