// The straightforward kernel program for the same job, as a yardstick for `fitup make`: a disc, one boolean cut of all holes,
// the kernel's default mesher, STEP and STL written, nothing verified. Holes come from the plan of the same parameter file.
#include <BRepAlgoAPI_Cut.hxx>
#include <BRepMesh_IncrementalMesh.hxx>
#include <BRepPrimAPI_MakeCone.hxx>
#include <BRepPrimAPI_MakeCylinder.hxx>
#include <Interface_Static.hxx>
#include <STEPControl_Writer.hxx>
#include <StlAPI_Writer.hxx>
#include <TopTools_ListOfShape.hxx>
#include <gp_Ax2.hxx>
#include <cmath>
#include <cstdlib>
#include <numbers>
#include <string>

int main(int argc, char** argv) {
    if (argc < 3) return 2;
    const int holes = std::atoi(argv[1]);
    const std::string stem = argv[2];
    const gp_Dir up(0, 0, 1);
    TopTools_ListOfShape plate, tools;
    plate.Append(BRepPrimAPI_MakeCylinder(gp_Ax2(gp_Pnt(0, 0, 0), up), 400.0, 40.0).Shape());
    tools.Append(BRepPrimAPI_MakeCylinder(gp_Ax2(gp_Pnt(0, 0, 0), up), 75.0, 40.0).Shape());
    for (int i = 1; i < holes; ++i) {
        const double a = 2.399963 * i, r = 100 + 280.0 * std::sqrt(double(i) / holes);
        const gp_Pnt at(r * std::cos(a), r * std::sin(a), 0);
        tools.Append(BRepPrimAPI_MakeCylinder(gp_Ax2(at, up), 4.5, 40.0).Shape());
    }
    BRepAlgoAPI_Cut cut;
    cut.SetArguments(plate);
    cut.SetTools(tools);
    cut.Build();
    BRepMesh_IncrementalMesh mesh(cut.Shape(), 0.01, false, 10.0 * std::numbers::pi / 180.0);
    STEPControl_Writer step;
    Interface_Static::SetCVal("write.step.schema", "AP214IS");
    step.Transfer(cut.Shape(), STEPControl_AsIs);
    step.Write((stem + ".step").c_str());
    StlAPI_Writer stl;
    stl.ASCIIMode() = false;
    stl.Write(cut.Shape(), (stem + ".stl").c_str());
}
