#include "solid/thread.hpp"

#include <gtest/gtest.h>

#include <BRepCheck_Analyzer.hxx>
#include <BRepGProp.hxx>
#include <BRepMesh_IncrementalMesh.hxx>
#include <BRep_Tool.hxx>
#include <GProp_GProps.hxx>
#include <IntCurvesFace_ShapeIntersector.hxx>
#include <Poly_Triangulation.hxx>
#include <STEPControl_Reader.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <algorithm>
#include <cmath>
#include <gp_Lin.hxx>
#include <numbers>
#include <sstream>

#include "base/error.hpp"
#include "exchange/kernel.hpp"
#include "exchange/kernel_side/solid_mesh.hpp"
#include "solid/thread_spline.hpp"
#include "solid/threads.hpp"
#include "trade/trade.hpp"

namespace fitup::solid {
namespace {

using plan::Hand;
using plan::ThreadedLength;
using plan::ThreadEnd;
using plan::ThreadProfile;
using plan::ThreadSide;
using std::numbers::pi;

constexpr ThreadProfile all_profiles[] = {ThreadProfile::iso_and_unified, ThreadProfile::whitworth,
                                          ThreadProfile::british_association};
/// What follows a thread that runs out.
constexpr double shank_mm = 5.0;
/// The faces follow the surface to thread_within_mm and the kernel integrates them by a fixed rule, which is
/// the greater part: 1e-7 and less.
constexpr double volume_relative = 3e-7;
/// As near as a measuring line may come to a crest or root.
constexpr double hair_mm = 1e-4;
/// STEP states a length to 15 digits; edges are worked out again at reading within the kernel's tolerance.
constexpr double place_mm = 2e-7;

ThreadedLength metric(double major_mm, double pitch_mm, double length_mm,
                      ThreadEnd finish = ThreadEnd::run_out) {
    return {plan::thread_form(ThreadProfile::iso_and_unified, major_mm, pitch_mm), ThreadSide::external,
            Hand::right, length_mm, finish};
}

TopoDS_Solid body(const ThreadedLength& of) {
    return of.side == ThreadSide::external ? threaded_stud(of, shank_mm) : tapped_bar(of, shank_mm);
}
double body_mm3(const ThreadedLength& of) {
    return of.side == ThreadSide::external ? stud_mm3(of, shank_mm) : bar_mm3(of, shank_mm);
}

double volume_mm3(const TopoDS_Shape& shape) {
    GProp_GProps properties;
    BRepGProp::VolumeProperties(shape, properties);
    return properties.Mass();
}

double area_mm2(const TopoDS_Shape& shape) {
    GProp_GProps properties;
    BRepGProp::SurfaceProperties(shape, properties);
    return properties.Mass();
}

void expect_sound(const TopoDS_Shape& shape, const ThreadedLength& of) {
    EXPECT_TRUE(BRepCheck_Analyzer(shape).IsValid());
    EXPECT_NEAR(volume_mm3(shape) / body_mm3(of), 1.0, volume_relative);
}

std::string name_of(const ThreadedLength& of) {
    return std::to_string(static_cast<int>(of.form.half_angle.degrees() * 2.0)) + " deg, " +
           std::to_string(of.form.major_mm) + " x " + std::to_string(of.form.pitch_mm) +
           (of.side == ThreadSide::external ? " external" : " internal") +
           (of.hand == Hand::right ? " right" : " left") +
           (of.finish == ThreadEnd::run_out ? " run-out" : " chamfer");
}

std::vector<ThreadedLength> every_kind(double major_mm, double pitch_mm, double length_mm) {
    std::vector<ThreadedLength> all;
    for (const ThreadProfile profile : all_profiles) {
        for (const ThreadSide side : {ThreadSide::external, ThreadSide::internal}) {
            for (const Hand hand : {Hand::right, Hand::left}) {
                for (const ThreadEnd finish : {ThreadEnd::run_out, ThreadEnd::chamfer}) {
                    all.push_back(
                        {plan::thread_form(profile, major_mm, pitch_mm), side, hand, length_mm, finish});
                }
            }
        }
    }
    return all;
}

TEST(Thread, every_kind_is_closed_valid_and_of_exact_volume) {
    for (const ThreadedLength& of : every_kind(8.0, 1.25, 10.0)) {
        SCOPED_TRACE(name_of(of));
        expect_sound(body(of), of);
    }
}

TEST(Thread, every_size_of_the_trade_is_sound) {
    int sizes = 0;
    for (const trade::Thread& row : trade::threads()) {
        if (row.major_mm < 3.0 || row.major_mm > 36.0) continue;
        ThreadProfile profile = ThreadProfile::iso_and_unified;
        if (row.flank_angle_deg == 55.0) profile = ThreadProfile::whitworth;
        if (row.flank_angle_deg == 47.5) profile = ThreadProfile::british_association;
        const auto form = plan::thread_form(profile, row.major_mm, row.pitch_mm);
        EXPECT_NEAR(2.0 * form.minor_radius_mm(), trade::minor_diameter_mm(row), 1e-9) << row.designation;
        EXPECT_NEAR(form.pitch_diameter_mm(), trade::pitch_diameter_mm(row), 1e-9) << row.designation;
        for (const ThreadSide side : {ThreadSide::external, ThreadSide::internal}) {
            const ThreadedLength of{form, side, Hand::right, 2.5 * row.pitch_mm, ThreadEnd::run_out};
            SCOPED_TRACE(row.designation + " " + name_of(of));
            expect_sound(body(of), of);
        }
        ++sizes;
    }
    EXPECT_GT(sizes, 70);
}

TEST(Thread, of_one_turn_and_of_a_hundred_is_sound) {
    for (const ThreadProfile profile : {ThreadProfile::iso_and_unified, ThreadProfile::whitworth}) {
        for (const double turns : {1.0, 1.3, 100.0}) {
            for (const ThreadSide side : {ThreadSide::external, ThreadSide::internal}) {
                const ThreadedLength of{plan::thread_form(profile, 6.0, 1.0), side, Hand::right, turns,
                                        ThreadEnd::run_out};
                SCOPED_TRACE(name_of(of) + " " + std::to_string(turns));
                expect_sound(body(of), of);
            }
        }
    }
}

TEST(Thread, has_faces_and_edges_in_proportion_to_its_turns) {
    const auto faces = [](double turns) { return thread_skin(metric(6.0, 1.0, turns), {}).faces.size(); };
    EXPECT_EQ(faces(40.0) - faces(20.0), 20u * 4u);
}

TEST(Thread, shorter_than_its_chamfers_is_refused) {
    EXPECT_THROW(thread_skin(metric(6.0, 1.0, 0.5), {}), KernelError);
    EXPECT_THROW(thread_skin(metric(6.0, 1.0, 1.0, ThreadEnd::chamfer), {}), KernelError);
    EXPECT_THROW(thread_skin(metric(6.0, 1.0, std::nan("")), {}), KernelError);
    EXPECT_NO_THROW(thread_skin(metric(6.0, 1.0, 0.6), {}));
}

/// The exact surface, the middle of the root at angle 0 at the finish.
double exact_radius_mm(const ThreadedLength& of, double angle, double z_mm) {
    const double turn = (of.hand == Hand::right ? angle : -angle) / (2.0 * pi);
    const double profile = of.form.radius_mm(z_mm - of.end_mm() - of.form.pitch_mm * turn);
    const double left_mm = of.end_mm() - z_mm;
    const bool runs_out = of.finish == ThreadEnd::run_out;
    if (runs_out && left_mm < of.form.pitch_mm)
        return std::lerp(of.finish_radius_mm(), profile, left_mm / of.form.pitch_mm);
    const double from_end_mm = runs_out ? z_mm : std::min(z_mm, left_mm);
    return of.side == ThreadSide::external ? std::min(profile, of.form.minor_radius_mm() + from_end_mm)
                                           : std::max(profile, of.form.major_radius_mm() - from_end_mm);
}

/// Points all over a face, its edges included: the corners of a fine mesh lie on its surface.
std::vector<gp_Pnt> points_on(const TopoDS_Face& face) {
    BRepMesh_IncrementalMesh(face, 0.02, false, 0.4);
    TopLoc_Location place;
    const auto mesh = BRep_Tool::Triangulation(face, place);
    std::vector<gp_Pnt> points;
    for (int k = 1; !mesh.IsNull() && k <= mesh->NbNodes(); ++k) points.push_back(mesh->Node(k));
    return points;
}

TEST(Thread, faces_lie_on_the_exact_surface) {
    for (const ThreadedLength& of : every_kind(6.0, 1.0, 2.2)) {
        SCOPED_TRACE(name_of(of));
        double worst_mm = 0.0;
        std::size_t count = 0;
        for (const TopoDS_Face& face : thread_skin(of, {}).faces) {
            for (const gp_Pnt& point : points_on(face)) {
                const double exact = exact_radius_mm(of, std::atan2(point.Y(), point.X()), point.Z());
                worst_mm = std::max(worst_mm, std::abs(std::hypot(point.X(), point.Y()) - exact));
                ++count;
            }
        }
        EXPECT_GT(count, 300u);
        EXPECT_LE(worst_mm, thread_within_mm);
    }
}

TEST(Thread, spline_error_follows_its_formula) {
    for (const int steps : {8, 12, 16}) {
        const auto turn = TurnSplines(steps).helix({0.0, 1.0, 1.0}, 0.0, 0.0, 2.0 * pi);
        double worst = 0.0;
        for (int k = 0; k <= 1000; ++k) {
            const double t = 2.0 * pi * k / 1000;
            worst = std::max(worst, turn->Value(t).Distance(gp_Pnt(std::cos(t), std::sin(t), 0.0)));
        }
        EXPECT_LE(worst, 1.001 * turn_error(steps)) << steps;
        EXPECT_GE(worst, 0.5 * turn_error(steps)) << steps;
    }
    EXPECT_LE(18.0 * turn_error(steps_per_turn(18.0, thread_within_mm)), thread_within_mm);
}

mesh::Mesh mesh_of(const TopoDS_Solid& solid) {
    return exchange::mesh_of_solid(Solid(std::make_shared<KernelBody>(solid, FaceNames())), {});
}

double enclosed_mm3(const mesh::Mesh& mesh) {
    double sum = 0.0;
    for (const auto& triangle : mesh.triangles) {
        const auto& a = mesh.vertices[triangle[0]];
        const auto& b = mesh.vertices[triangle[1]];
        const auto& c = mesh.vertices[triangle[2]];
        sum += a[0] * (b[1] * c[2] - b[2] * c[1]) + a[1] * (b[2] * c[0] - b[0] * c[2]) +
               a[2] * (b[0] * c[1] - b[1] * c[0]);
    }
    return sum / 6.0;
}

TEST(Thread, mesh_is_watertight_and_near_the_volume) {
    for (const ThreadedLength& of : every_kind(8.0, 1.25, 2.5)) {
        // Round profiles take ten times as long to mesh; a mirrored one adds nothing.
        if (of.form.rounding_mm > 0.0 && of.hand == Hand::left) continue;
        SCOPED_TRACE(name_of(of));
        const TopoDS_Solid solid = body(of);
        const mesh::Mesh mesh = mesh_of(solid);
        EXPECT_TRUE(mesh::is_watertight(mesh));
        // The mesh stays within a chord of the faces.
        EXPECT_NEAR(enclosed_mm3(mesh), body_mm3(of), area_mm2(solid) * mesh::Fineness().chord_mm);
    }
}

/// Heights at which a line parallel to the axis, at this angle and radius, enters and leaves the metal.
std::vector<double> crossings(const TopoDS_Shape& shape, double radius_mm, double angle, double to_mm) {
    IntCurvesFace_ShapeIntersector line;
    line.Load(shape, 1e-9);
    line.Perform(gp_Lin(gp_Pnt(radius_mm * std::cos(angle), radius_mm * std::sin(angle), 0.0), gp::DZ()), 0.0,
                 to_mm);
    std::vector<double> heights;
    for (int k = 1; k <= line.NbPnt(); ++k) heights.push_back(line.WParameter(k));
    std::sort(heights.begin(), heights.end());
    return heights;
}

TopoDS_Shape read_back(const TopoDS_Solid& solid) {
    plan::Plan plan;
    plan.part = "threaded_rod";
    plan.name = "stud";
    FaceNames names;
    for (TopExp_Explorer faces(solid, TopAbs_FACE); faces.More(); faces.Next())
        names.Bind(faces.Current(), "thread");
    const Solid whole(std::make_shared<KernelBody>(solid, names));
    // As any reader does it: with the kernel's healing, which our own reading spares such shapes.
    std::istringstream text(exchange::kernel().step_text(whole, plan, {}));
    STEPControl_Reader reader;
    if (reader.ReadStream("stud.step", text) != IFSelect_RetDone) throw std::runtime_error("not read");
    reader.TransferRoots();
    return reader.OneShape();
}

/// Widths of what lies between crossings, between full form's first and last whole turn.
std::vector<double> widths(const TopoDS_Shape& shape, const ThreadedLength& of, double radius_mm) {
    const double pitch = of.form.pitch_mm;
    std::vector<double> found;
    const auto heights = crossings(shape, radius_mm, 0.3, of.end_mm());
    for (std::size_t k = 1; k < heights.size(); ++k) {
        if (heights[k - 1] > pitch && heights[k] < of.length_mm - pitch)
            found.push_back(heights[k] - heights[k - 1]);
    }
    return found;
}

/// ISO 68-1: the pitch diameter is where ridge and groove are both half a pitch wide; the crest is an eighth
/// of the pitch wide at the major diameter, the root a quarter at the minor.
TEST(Thread, diameters_measured_on_the_file_are_those_of_the_standard) {
    const ThreadedLength of = metric(10.0, 1.5, 15.0);
    const TopoDS_Shape shape = read_back(body(of));
    expect_sound(shape, of);
    const double sharp = std::numbers::sqrt3 / 2.0 * 1.5;
    const double flank = 2.0 * hair_mm / std::numbers::sqrt3;

    const auto at_pitch = widths(shape, of, 0.5 * (10.0 - 0.75 * sharp));
    EXPECT_GT(at_pitch.size(), 10u);
    for (const double width : at_pitch) EXPECT_NEAR(width, 0.75, place_mm);

    const auto crest = widths(shape, of, 5.0 - hair_mm);
    EXPECT_NEAR(*std::min_element(crest.begin(), crest.end()), 1.5 / 8.0 + flank, place_mm);
    EXPECT_TRUE(widths(shape, of, 5.0 + hair_mm).empty());

    const double minor = 5.0 - 5.0 / 8.0 * sharp;
    const auto root = widths(shape, of, minor + hair_mm);
    EXPECT_NEAR(*std::min_element(root.begin(), root.end()), 1.5 / 4.0 + flank, place_mm);
    EXPECT_TRUE(widths(shape, of, minor - hair_mm).empty());
}

TEST(Thread, every_kind_survives_the_file) {
    for (const ThreadedLength& of : every_kind(8.0, 1.25, 3.0)) {
        SCOPED_TRACE(name_of(of));
        expect_sound(read_back(body(of)), of);
    }
}

/// Going up a right-hand screw its ridge turns anticlockwise about the axis: a little further on it is
/// higher, by that part of a pitch. The line crosses two flanks a pitch, half a pitch apart at the pitch
/// diameter.
TEST(Thread, hands_are_mirror_images) {
    constexpr double angle = 0.5;
    ThreadedLength of = metric(8.0, 1.25, 10.0);
    for (const Hand hand : {Hand::right, Hand::left}) {
        of.hand = hand;
        const TopoDS_Solid stud = body(of);
        const double radius_mm = 0.5 * of.form.pitch_diameter_mm();
        const double here = crossings(stud, radius_mm, 0.0, of.end_mm()).at(4);
        const double there = crossings(stud, radius_mm, angle, of.end_mm()).at(4);
        const double rise = std::remainder(there - here, 1.25 / 2.0);
        EXPECT_NEAR(rise, (hand == Hand::right ? 1.25 : -1.25) * angle / (2.0 * pi), place_mm);
    }
}

TEST(Thread, stands_where_it_is_put) {
    gp_Trsf place;
    gp_Trsf shift;
    place.SetRotation(gp_Ax1(gp::Origin(), gp_Dir(1.0, 2.0, -0.5)), 1.1);
    shift.SetTranslation(gp_Vec(30.0, -20.0, 10.0));
    place.PreMultiply(shift);
    for (const Hand hand : {Hand::right, Hand::left}) {
        ThreadedLength of = metric(8.0, 1.25, 10.0);
        of.hand = hand;
        const TopoDS_Solid stud = threaded_stud(of, shank_mm, place);
        expect_sound(stud, of);
        GProp_GProps here, there;
        BRepGProp::VolumeProperties(threaded_stud(of, shank_mm), here);
        BRepGProp::VolumeProperties(stud, there);
        EXPECT_LT(here.CentreOfMass().Transformed(place).Distance(there.CentreOfMass()), 1e-6);
        for (TopExp_Explorer faces(stud, TopAbs_FACE); faces.More(); faces.Next())
            EXPECT_TRUE(faces.Current().Location().IsIdentity());
    }
}

}  // namespace
}  // namespace fitup::solid
