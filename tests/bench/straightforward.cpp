// The straightforward kernel program for the same job, the yardstick of `fitup make`: one boolean cut of all
// holes, the kernel's default mesher, STEP and STL written, nothing verified. bench-straightforward COUNT
// STEM
#include <BRepAlgoAPI_Cut.hxx>
#include <BRepMesh_IncrementalMesh.hxx>
#include <BRepPrimAPI_MakeCylinder.hxx>
#include <Interface_Static.hxx>
#include <STEPControl_Writer.hxx>
#include <StlAPI_Writer.hxx>
#include <TopTools_ListOfShape.hxx>
#include <cstdlib>
#include <gp_Ax2.hxx>
#include <numbers>
#include <string>

#include "sunflower.hpp"

int main(int argc, char** argv) {
    using namespace fitup::bench;
    if (argc != 3) return 2;
    const std::string stem = argv[2];
    const auto cylinder = [](double x, double y, double diameter) {
        return BRepPrimAPI_MakeCylinder(gp_Ax2(gp_Pnt(x, y, 0), gp_Dir(0, 0, 1)), diameter / 2, thickness_mm)
            .Shape();
    };
    TopTools_ListOfShape plate, tools;
    plate.Append(cylinder(0, 0, disc_mm));
    tools.Append(cylinder(0, 0, bore_mm));
    for (const Seed& seed : seeds(std::atoi(argv[1]))) tools.Append(cylinder(seed.x_mm, seed.y_mm, hole_mm));
    BRepAlgoAPI_Cut cut;
    cut.SetArguments(plate);
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
