// The straightforward kernel program for a rod with two threads: two swept grooves cut from a bar, the
// kernel's default mesher, STEP and STL written, nothing verified. bench-straightforward-rod STEM
#include <BRepAlgoAPI_Cut.hxx>
#include <BRepBuilderAPI_Transform.hxx>
#include <BRepMesh_IncrementalMesh.hxx>
#include <BRepPrimAPI_MakeCylinder.hxx>
#include <Interface_Static.hxx>
#include <STEPControl_Writer.hxx>
#include <StlAPI_Writer.hxx>
#include <TopTools_ListOfShape.hxx>
#include <gp_Trsf.hxx>
#include <numbers>
#include <string>

#include "bench/swept_groove.hpp"

int main(int argc, char** argv) {
    using namespace fitup;
    if (argc != 2) return 2;
    const std::string stem = argv[1];
    constexpr double inch_mm = 25.4;
    constexpr int turns_an_inch = 28;
    const double length_mm = 12.0 * inch_mm;
    const auto form =
        plan::thread_form(plan::ThreadProfile::iso_and_unified, inch_mm / 4.0, inch_mm / turns_an_inch);
    // From the far end the thread is the same, turned over.
    gp_Trsf over, along;
    over.SetRotation(gp_Ax1(gp::Origin(), gp::DX()), std::numbers::pi);
    along.SetTranslation(gp_Vec(0.0, 0.0, length_mm));
    const TopoDS_Shape groove = bench::swept_groove(form, turns_an_inch);
    TopTools_ListOfShape bar, tools;
    bar.Append(BRepPrimAPI_MakeCylinder(form.major_radius_mm(), length_mm).Shape());
    tools.Append(groove);
    tools.Append(BRepBuilderAPI_Transform(groove, along * over, true).Shape());
    BRepAlgoAPI_Cut cut;
    cut.SetArguments(bar);
    cut.SetTools(tools);
    cut.Build();
    BRepMesh_IncrementalMesh mesh(cut.Shape(), 0.01, false, 10.0 * std::numbers::pi / 180.0);
    STEPControl_Writer step;
    Interface_Static::SetCVal("write.step.schema", "AP214IS");
    if (step.Transfer(cut.Shape(), STEPControl_AsIs) != IFSelect_RetDone) return 1;
    if (step.Write((stem + ".step").c_str()) != IFSelect_RetDone) return 1;
    StlAPI_Writer stl;
    stl.ASCIIMode() = false;
    return stl.Write(cut.Shape(), (stem + ".stl").c_str()) ? 0 : 1;
}
