// Rods as solids: valid, of the closed form's volume, area and box, whatever their path and ends.
#include "solid/rod_solid.hpp"

#include <gtest/gtest.h>

#include <BRepAdaptor_Surface.hxx>
#include <BRepBndLib.hxx>
#include <BRepGProp.hxx>
#include <Bnd_Box.hxx>
#include <GProp_GProps.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <cmath>

#include "plan/property.hpp"
#include "plan/rods.hpp"
#include "solid/solid_impl.hpp"
#include "solid/sound.hpp"

namespace fitup::solid {
namespace {

using plan::testing::any_number;
using plan::testing::any_rod;
using plan::testing::bare_rod;

plan::Plan plan_of(plan::Rod rod) {
    plan::Plan plan;
    plan.name = "rod";
    plan.rod = std::move(rod);
    return plan;
}

Solid built_rod(const plan::Rod& rod) { return built(plan_of(rod), {}); }

/// Sums of a few dozen terms: 1e-11 leaves room for them.
constexpr double relative = 1e-11;
constexpr double place_mm = 1e-9;

void expect_as_planned(const plan::Rod& rod) {
    const Solid solid = built_rod(rod);
    expect_valid(solid);
    const plan::RodFigures figures = plan::rod_figures(rod, plan::rod_path(rod));
    EXPECT_NEAR(solid.volume_mm3(), figures.volume_mm3, relative * figures.volume_mm3);
    EXPECT_NEAR(solid.area_mm2(), figures.area_mm2, relative * figures.area_mm2);
    const plan::Box box = solid.box();
    for (std::size_t i = 0; i < 3; ++i) {
        EXPECT_NEAR(box.least[i], figures.box.least[i], place_mm) << "axis " << i;
        EXPECT_NEAR(box.most[i], figures.box.most[i], place_mm) << "axis " << i;
    }
}

plan::RodEnd turned_down(double diameter_mm, double length_mm, double chamfer_mm = 0) {
    return {diameter_mm, length_mm, {}, false, chamfer_mm};
}

TEST(RodSolid, of_every_kind_of_end_is_as_planned) {
    plan::Rod rod = bare_rod(10, 25, {{0, 0, 0}, {100, 0, 0}, {100, 80, 0}, {160, 80, 90}});
    expect_as_planned(rod);
    rod.ends = {turned_down(8, 20, 1), turned_down(10, 0, 2)};
    expect_as_planned(rod);
    rod.ends = {turned_down(10, 20, 1), turned_down(6, 15)};
    expect_as_planned(rod);
    rod.corners.resize(2);
    rod.ends = {turned_down(8, 20, 1), turned_down(7, 79.9, 2)};
    expect_as_planned(rod);
}

TEST(RodSolid, of_bends_that_touch_has_no_straight_between) {
    const plan::Rod rod = bare_rod(10, 25, {{0, 0, 0}, {100, 0, 0}, {100, 50, 0}, {100, 50, 60}});
    expect_as_planned(rod);
    EXPECT_TRUE(walls_named(built_rod(rod), "straight-2").empty());
}

TEST(RodSolid, of_any_fair_rod_is_as_planned) {
    plan::for_random_cases([] {
        plan::Rod rod = any_rod();
        for (plan::RodEnd& end : rod.ends) {
            const double turned = rod.diameter_mm * *rc::gen::element(1.0, 0.8, 0.5);
            end = turned_down(turned, *rc::gen::element(0.0, 5.0, 15.0));
            if (end.length_mm == 0.0) end.diameter_mm = rod.diameter_mm;
            if (*rc::gen::arbitrary<bool>()) end.chamfer_mm = end.diameter_mm * any_number(0.05, 0.3);
        }
        const bool meets = plan::rod_contact(rod, plan::rod_path(rod)).has_value();
        RC_PRE(!meets);
        expect_as_planned(rod);
        RC_ASSERT(!testing::Test::HasFailure());
    });
}

/// The kernel's own integration of the same tori, and its own box: both to about its own accuracy.
TEST(RodSolid, has_the_volume_and_box_that_the_kernel_itself_finds) {
    const plan::Rod rod =
        bare_rod(7, 18, {{0, 0, 0}, {60, 10, 5}, {80, 70, -10}, {20, 120, 60}, {90, 150, 90}});
    const Solid solid = built_rod(rod);
    const TopoDS_Shape& shape = body_of(solid).shape;
    ASSERT_TRUE(amounts_in_closed_form(shape));
    GProp_GProps volume, area;
    BRepGProp::VolumeProperties(shape, volume);
    BRepGProp::SurfaceProperties(shape, area);
    EXPECT_NEAR(volume.Mass() / solid.volume_mm3(), 1, 1e-9);
    EXPECT_NEAR(area.Mass() / solid.area_mm2(), 1, 1e-9);
    Bnd_Box box;
    BRepBndLib::AddOptimal(shape, box, false, false);
    plan::Box found;
    box.Get(found.least[0], found.least[1], found.least[2], found.most[0], found.most[1], found.most[2]);
    for (std::size_t i = 0; i < 3; ++i) {
        EXPECT_NEAR(found.least[i], solid.box().least[i], 1e-5);
        EXPECT_NEAR(found.most[i], solid.box().most[i], 1e-5);
    }
}

plan::RodEnd threaded(double major_mm, double pitch_mm, double length_mm, plan::Hand hand) {
    plan::Thread thread;
    thread.designation = "thread";
    thread.major_mm = major_mm;
    thread.pitch_mm = pitch_mm;
    thread.minor_mm = major_mm - 1.082532 * pitch_mm;
    thread.hand = hand;
    thread.modelled = true;
    return {major_mm, length_mm, thread, true, 0};
}

/// The kernel integrates thread faces by a fixed rule, to about 1e-7.
constexpr double threaded_relative = 1e-6;

TEST(RodSolid, with_modelled_threads_is_valid_and_holds_the_profiles_integral) {
    plan::Rod rod = bare_rod(8, 24, {{0, 0, 0}, {90, 0, 0}, {120, 60, 20}, {220, 60, 40}});
    for (const double shank_mm : {8.0, 10.0}) {
        for (const plan::Hand hand : {plan::Hand::right, plan::Hand::left}) {
            rod.diameter_mm = shank_mm;
            rod.ends = {threaded(8, 1.25, 12, hand), threaded(6, 1, 9, hand)};
            const Solid solid = built_rod(rod);
            expect_valid(solid);
            const double planned = plan::rod_figures(rod, plan::rod_path(rod)).volume_mm3;
            EXPECT_NEAR(solid.volume_mm3() / planned, 1, threaded_relative);
        }
    }
    rod.ends[0] = {10, 0, {}, false, 0};
    expect_valid(built_rod(rod));
    std::swap(rod.ends[0], rod.ends[1]);
    expect_valid(built_rod(rod));
}

TEST(RodSolid, has_a_face_for_each_piece) {
    plan::Rod rod = bare_rod(10, 25, {{0, 0, 0}, {100, 0, 0}, {100, 80, 0}});
    rod.ends = {turned_down(8, 20, 1), turned_down(10, 0, 2)};
    const Solid solid = built_rod(rod);
    std::vector<std::string> names;
    for (TopExp_Explorer faces(body_of(solid).shape, TopAbs_FACE); faces.More(); faces.Next())
        names.push_back(body_of(solid).names.Find(faces.Current()));
    EXPECT_EQ(names, (std::vector<std::string>{"end-1", "chamfer-1", "turned-1", "shoulder-1", "straight-1",
                                               "bend-1", "straight-2", "chamfer-2", "end-2"}));
}

}  // namespace
}  // namespace fitup::solid
