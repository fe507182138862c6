// Closed form against the kernel's own numeric integration: two ways to one number.
#include "solid/closed_form.hpp"

#include <gtest/gtest.h>

#include <BRepAlgoAPI_Cut.hxx>
#include <BRepBndLib.hxx>
#include <BRepBuilderAPI_Transform.hxx>
#include <BRepGProp.hxx>
#include <BRepPrimAPI_MakeCone.hxx>
#include <BRepPrimAPI_MakeCylinder.hxx>
#include <BRepPrimAPI_MakeSphere.hxx>
#include <Bnd_Box.hxx>
#include <GProp_GProps.hxx>
#include <gp_Trsf.hxx>
#include <numbers>

#include "solid/plates.hpp"
#include "solid/solid_impl.hpp"
#include "solid/sound.hpp"

namespace fitup::solid {
namespace {

using std::numbers::pi;

/// Both ways are good to about 1e-14; 1e-11 allows for parts that lie a metre from the origin.
constexpr double relative = 1e-11;

void expect_both_ways_agree(const TopoDS_Shape& shape) {
    const auto amounts = amounts_in_closed_form(shape);
    ASSERT_TRUE(amounts);
    GProp_GProps volume, area;
    BRepGProp::VolumeProperties(shape, volume);
    BRepGProp::SurfaceProperties(shape, area);
    EXPECT_NEAR(amounts->volume_mm3, volume.Mass(), relative * volume.Mass());
    EXPECT_NEAR(amounts->area_mm2, area.Mass(), relative * area.Mass());
    Bnd_Box box;
    BRepBndLib::AddOptimal(shape, box, false, false);
    plan::Box wanted;
    box.Get(wanted.least[0], wanted.least[1], wanted.least[2], wanted.most[0], wanted.most[1],
            wanted.most[2]);
    for (std::size_t i = 0; i < 3; ++i) {
        // The kernel finds extremes of arcs by search, to about 1e-7.
        EXPECT_NEAR(amounts->box.least[i], wanted.least[i], 1e-6);
        EXPECT_NEAR(amounts->box.most[i], wanted.most[i], 1e-6);
    }
}

TopoDS_Shape tilted(const TopoDS_Shape& shape) {
    gp_Trsf turn, shift;
    turn.SetRotation(gp_Ax1(gp_Pnt(3, 5, 7), gp_Dir(1, 2, 3)), 0.7);
    shift.SetTranslation(gp_Vec(300, -200, 500));
    return BRepBuilderAPI_Transform(shape, shift * turn, true).Shape();
}

TopoDS_Shape mirrored(const TopoDS_Shape& shape) {
    gp_Trsf mirror;
    mirror.SetMirror(gp_Ax2(gp_Pnt(10, 0, 0), gp_Dir(1, 0.2, 0)));
    return BRepBuilderAPI_Transform(shape, mirror, true).Shape();
}

TEST(ClosedForm, a_cone_and_its_frustum_as_in_the_textbook) {
    const auto cone = amounts_in_closed_form(BRepPrimAPI_MakeCone(6, 0, 8).Shape());
    ASSERT_TRUE(cone);
    EXPECT_NEAR(cone->volume_mm3, pi * 36 * 8 / 3, 1e-11);
    EXPECT_NEAR(cone->area_mm2, pi * 36 + pi * 6 * 10, 1e-11);
    const auto frustum = amounts_in_closed_form(BRepPrimAPI_MakeCone(3, 6, 4).Shape());
    ASSERT_TRUE(frustum);
    EXPECT_NEAR(frustum->volume_mm3, pi * 4 / 3 * (9 + 18 + 36), 1e-11);
    EXPECT_NEAR(frustum->area_mm2, pi * (9 + 36 + 9 * 5), 1e-11);
}

TEST(ClosedForm, every_feature_upright_tilted_and_mirrored) {
    plan::Plan plan = plates::round_plate();
    plan.body.edge_break_mm = 1.5;
    plan.body.edge_break_modelled = true;
    plan.body.outline = plan::rectangle({0, 0}, 180, 140, 12, Angle::from_degrees(15));
    plan.holes.push_back(plates::hole("sunk", {55, 30}, 8));
    plan.holes.back().countersink = plan::Countersink{plan::Side::B, 16, Angle::from_degrees(90)};
    plan.holes.push_back(plates::blind_hole("blind", {-60, 0}, 10, 12, plan::Side::A));
    plan.holes.push_back(plates::hole("slot", {0, 50}, 8));
    plan.holes.back().slot_length_mm = 20;
    plan.holes.back().slot_direction = Angle::from_degrees(10);
    const Solid solid = built(plan);
    const TopoDS_Shape& shape = body_of(solid).shape;
    expect_both_ways_agree(shape);
    expect_both_ways_agree(tilted(shape));
    expect_both_ways_agree(mirrored(shape));
    expect_both_ways_agree(mirrored(tilted(shape)));
}

TEST(ClosedForm, a_boolean_of_upright_walls) {
    const TopoDS_Shape plate = BRepPrimAPI_MakeCylinder(50, 12).Shape();
    const TopoDS_Shape tool = BRepPrimAPI_MakeCylinder(gp_Ax2(gp_Pnt(45, 0, -1), gp::DZ()), 15, 20).Shape();
    expect_both_ways_agree(BRepAlgoAPI_Cut(plate, tool).Shape());
}

TEST(ClosedForm, what_has_none_is_left_to_the_kernel) {
    EXPECT_FALSE(amounts_in_closed_form(BRepPrimAPI_MakeSphere(5).Shape()));
    const TopoDS_Shape rod = BRepPrimAPI_MakeCylinder(10, 40).Shape();
    const TopoDS_Shape across = BRepPrimAPI_MakeCylinder(gp_Ax2(gp_Pnt(-20, 0, 20), gp::DX()), 4, 40).Shape();
    EXPECT_FALSE(amounts_in_closed_form(BRepAlgoAPI_Cut(rod, across).Shape()));
    EXPECT_NEAR(amounts_of(BRepPrimAPI_MakeSphere(5).Shape()).volume_mm3, pi * 500 / 3, 1e-9);
}

}  // namespace
}  // namespace fitup::solid
