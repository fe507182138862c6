#include "solid/threads.hpp"

#include <BRep_Builder.hxx>
#include <NCollection_DataMap.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_ShapeMapHasher.hxx>
#include <numbers>
#include <stdexcept>

namespace fitup::solid {
namespace {

using std::numbers::pi;

void append(std::vector<TopoDS_Face>& faces, const std::vector<TopoDS_Face>& more) {
    faces.insert(faces.end(), more.begin(), more.end());
}

double disc_mm2(double radius_mm) { return pi * radius_mm * radius_mm; }

/// The far end of the thread, or of what follows it.
Ring far_ring(const ThreadSkin& skin, const plan::ThreadedLength& of, double on_mm, bool external,
              const gp_Trsf& place, std::vector<TopoDS_Face>& faces) {
    if (of.finish != plan::ThreadEnd::run_out) return skin.finish;
    Ring end = plain_ring(of.finish_radius_mm(), of.end_mm() + on_mm, place);
    append(faces, sleeve_faces(skin.finish, end, external, place));
    return end;
}

}  // namespace

TopoDS_Solid closed_solid(const std::vector<TopoDS_Face>& faces) {
    const BRep_Builder builder;
    TopoDS_Shell shell;
    builder.MakeShell(shell);
    NCollection_DataMap<TopoDS_Shape, std::pair<int, int>, TopTools_ShapeMapHasher> uses;
    for (const TopoDS_Face& face : faces) {
        builder.Add(shell, face);
        for (TopExp_Explorer edges(face, TopAbs_EDGE); edges.More(); edges.Next()) {
            if (!uses.IsBound(edges.Current())) uses.Bind(edges.Current(), {0, 0});
            auto& [forward, backward] = uses.ChangeFind(edges.Current());
            ++(edges.Current().Orientation() == TopAbs_FORWARD ? forward : backward);
        }
    }
    for (decltype(uses)::Iterator use(uses); use.More(); use.Next()) {
        if (use.Value() != std::pair{1, 1}) throw std::runtime_error("the faces are not closed");
    }
    shell.Closed(true);
    TopoDS_Solid solid;
    builder.MakeSolid(solid);
    builder.Add(solid, shell);
    return solid;
}

TopoDS_Solid threaded_stud(const plan::ThreadedLength& of, double shank_mm, const gp_Trsf& place) {
    const ThreadSkin skin = thread_skin(of, place);
    std::vector<TopoDS_Face> faces = skin.faces;
    faces.push_back(flat_face(skin.start, nullptr, false, place));
    const Ring end = far_ring(skin, of, shank_mm, true, place, faces);
    faces.push_back(flat_face(end, nullptr, true, place));
    return closed_solid(faces);
}

double stud_mm3(const plan::ThreadedLength& of, double shank_mm) {
    const bool has_shank = of.finish == plan::ThreadEnd::run_out;
    return of.enclosed_mm3() + (has_shank ? disc_mm2(of.finish_radius_mm()) * shank_mm : 0.0);
}

TopoDS_Solid tapped_bar(const plan::ThreadedLength& of, double bore_mm) {
    const gp_Trsf place;
    const ThreadSkin skin = thread_skin(of, place);
    std::vector<TopoDS_Face> faces = skin.faces;
    const Ring inner = far_ring(skin, of, bore_mm, false, place, faces);
    const Ring low = plain_ring(of.form.major_mm, 0.0, place);
    const Ring high = plain_ring(of.form.major_mm, inner.z_mm, place);
    append(faces, sleeve_faces(low, high, true, place));
    faces.push_back(flat_face(low, &skin.start, false, place));
    faces.push_back(flat_face(high, &inner, true, place));
    return closed_solid(faces);
}

double bar_mm3(const plan::ThreadedLength& of, double bore_mm) {
    const bool has_bore = of.finish == plan::ThreadEnd::run_out;
    const double on_mm = has_bore ? bore_mm : 0.0;
    return disc_mm2(of.form.major_mm) * (of.end_mm() + on_mm) - of.enclosed_mm3() -
           disc_mm2(of.finish_radius_mm()) * on_mm;
}

}  // namespace fitup::solid
