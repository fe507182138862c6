#include "solid/sound.hpp"

#include <BRepAdaptor_Surface.hxx>
#include <BRepCheck_Analyzer.hxx>
#include <BRepTools.hxx>
#include <BRep_Tool.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <cmath>

#include "base/text.hpp"
#include "solid/skin_solid.hpp"
#include "solid/solid_impl.hpp"

namespace fitup::solid {
namespace {

/// The kernel integrates planes, cylinders and cones to about 1e-14; 1e-11 leaves room for sums over 2000
/// faces.
constexpr double volume_relative = 1e-11;
constexpr double area_relative = 1e-11;
/// Coordinates are the plan's own doubles; only sums of a few of them stand between.
constexpr double place_mm = 1e-9;

int count(const TopoDS_Shape& shape, TopAbs_ShapeEnum kind) {
    int found = 0;
    for (TopExp_Explorer all(shape, kind); all.More(); all.Next()) ++found;
    return found;
}

/// A cylindrical face as text with nine decimals, enough for place_mm.
std::string text_of(const TopoDS_Face& face) {
    const BRepAdaptor_Surface surface(face, false);
    double u_low, u_high, v_low, v_high;
    BRepTools::UVBounds(face, u_low, u_high, v_low, v_high);
    const gp_Cylinder cylinder = surface.Cylinder();
    const gp_Pnt at = cylinder.Location();
    const double sense = cylinder.Axis().Direction().Z() > 0.0 ? 1.0 : -1.0;
    const double low = std::min(at.Z() + sense * v_low, at.Z() + sense * v_high);
    const double high = std::max(at.Z() + sense * v_low, at.Z() + sense * v_high);
    return std::string(face.Orientation() == TopAbs_REVERSED ? "hole r " : "shaft r ") +
           short_text(cylinder.Radius(), 8) + " at " + short_text(at.X(), 8) + ", " + short_text(at.Y(), 8) +
           " from " + short_text(low, 8) + " to " + short_text(high, 8);
}

std::string text_of(const plan::Skin& skin, const plan::Wall& wall) {
    const plan::Circle& circle = *skin.contours[wall.contour].circle();
    return std::string(wall.metal_inside ? "shaft r " : "hole r ") + short_text(circle.radius_mm, 8) +
           " at " + short_text(circle.centre.x_mm, 8) + ", " + short_text(circle.centre.y_mm, 8) + " from " +
           short_text(wall.z_low_mm, 8) + " to " + short_text(wall.z_high_mm, 8);
}

}  // namespace

void expect_valid(const Solid& solid) {
    const TopoDS_Solid& shape = body_of(solid).shape;
    EXPECT_EQ(count(shape, TopAbs_SHELL), 1);
    for (TopExp_Explorer shells(shape, TopAbs_SHELL); shells.More(); shells.Next()) {
        EXPECT_TRUE(BRep_Tool::IsClosed(shells.Current()));
    }
    lay_edges_on_planes(shape);
    EXPECT_TRUE(BRepCheck_Analyzer(shape).IsValid());
    EXPECT_GT(solid.volume_mm3(), 0.0);
    for (TopExp_Explorer faces(shape, TopAbs_FACE); faces.More(); faces.Next()) {
        EXPECT_TRUE(body_of(solid).names.IsBound(faces.Current()));
    }
}

void expect_sound(const Solid& solid, const plan::Skin& skin) {
    expect_valid(solid);
    EXPECT_NEAR(solid.volume_mm3(), skin.volume_mm3, volume_relative * skin.volume_mm3);
    EXPECT_NEAR(solid.area_mm2(), skin.area_mm2, area_relative * skin.area_mm2);
    const plan::Box box = solid.box();
    for (std::size_t i = 0; i < 3; ++i) {
        EXPECT_NEAR(box.least[i], skin.box.least[i], place_mm) << "axis " << i;
        EXPECT_NEAR(box.most[i], skin.box.most[i], place_mm) << "axis " << i;
    }
    for (const auto& wall : skin.walls) {
        if (!skin.contours[wall.contour].circle()) continue;
        const auto there = walls_named(solid, wall.name);
        EXPECT_NE(std::find(there.begin(), there.end(), text_of(skin, wall)), there.end())
            << wall.name << ": no " << text_of(skin, wall);
    }
}

Solid built(const plan::Plan& plan, const plan::SkinResult& skin) {
    const Built result = build(plan, skin);
    for (const auto& finding : result.findings) ADD_FAILURE() << finding.rule << ": " << finding.message;
    if (!result.solid) throw std::runtime_error("no solid was built");
    return *result.solid;
}

Solid built(const plan::Plan& plan) { return built(plan, plan::skin(plan)); }

std::vector<std::string> walls_named(const Solid& solid, const std::string& name) {
    std::vector<std::string> found;
    const KernelBody& body = body_of(solid);
    for (TopExp_Explorer faces(body.shape, TopAbs_FACE); faces.More(); faces.Next()) {
        const TopoDS_Face face = TopoDS::Face(faces.Current());
        if (body.names.Find(face) != name || BRepAdaptor_Surface(face, false).GetType() != GeomAbs_Cylinder)
            continue;
        found.push_back(text_of(face));
    }
    return found;
}

}  // namespace fitup::solid
