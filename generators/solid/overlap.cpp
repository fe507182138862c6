#include "solid/overlap.hpp"

#include <BRepAlgoAPI_Cut.hxx>
#include <BRepAlgoAPI_Fuse.hxx>
#include <BRepCheck_Analyzer.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <algorithm>
#include <sstream>

#include "solid/kernel_call.hpp"
#include "solid/tools.hpp"

namespace fitup::solid {
namespace {

void append(SkinSolids& all, const SkinSolids& more) {
    all.solids.insert(all.solids.end(), more.solids.begin(), more.solids.end());
    for (FaceNames::Iterator face(more.names); face.More(); face.Next())
        all.names.Bind(face.Key(), face.Value());
}

TopTools_ListOfShape list_of(const std::vector<TopoDS_Solid>& solids) {
    TopTools_ListOfShape list;
    for (const auto& solid : solids) list.Append(solid);
    return list;
}

/// Names of the faces of a boolean's result, by the faces they were before.
FaceNames names_after(BRepAlgoAPI_BooleanOperation& boolean, const SkinSolids& arguments,
                      const SkinSolids& tools) {
    FaceNames names;
    const auto follow = [&](const FaceNames& before) {
        for (FaceNames::Iterator face(before); face.More(); face.Next()) {
            for (const auto& after : boolean.Modified(face.Key())) names.Bind(after, face.Value());
            if (!names.IsBound(face.Key())) names.Bind(face.Key(), face.Value());
        }
    };
    follow(tools.names);
    follow(arguments
               .names);  // last: where a cut's face and the part's lie in one another, the part's name stays
    return names;
}

std::string errors_of(const BRepAlgoAPI_BooleanOperation& boolean) {
    std::ostringstream text;
    boolean.DumpErrors(text);
    return text.str();
}

SkinSolids result_of(BRepAlgoAPI_BooleanOperation& boolean, const SkinSolids& arguments,
                     const SkinSolids& tools, const std::string& making) {
    boolean.SetArguments(list_of(arguments.solids));
    boolean.SetTools(list_of(tools.solids));
    boolean.SetNonDestructive(true);
    boolean.Build();
    if (boolean.HasErrors()) throw KernelError(making + ": the boolean failed: " + errors_of(boolean));
    const FaceNames names = names_after(boolean, arguments, tools);
    SkinSolids result;
    for (TopExp_Explorer solids(boolean.Shape(), TopAbs_SOLID); solids.More(); solids.Next()) {
        result.solids.push_back(TopoDS::Solid(solids.Current()));
        for (TopExp_Explorer faces(solids.Current(), TopAbs_FACE); faces.More(); faces.Next()) {
            const std::string* name = names.Seek(faces.Current());
            if (name == nullptr) throw KernelError(making + ": a face lost its name in the boolean");
            result.names.Bind(faces.Current(), *name);
        }
    }
    return result;
}

bool boxes_meet(const plan::Contour& a, const plan::Contour& b) {
    const plan::Box2 first = a.box();
    const plan::Box2 second = b.box();
    return first.least.x_mm <= second.most.x_mm && second.least.x_mm <= first.most.x_mm &&
           first.least.y_mm <= second.most.y_mm && second.least.y_mm <= first.most.y_mm;
}

plan::Box metal_of(const plan::Plan& plan, const plan::SkinResult& skin) {
    plan::Box metal = skin.skin.box;
    metal.least[2] = std::min(metal.least[2], 0.0);
    metal.most[2] = std::max(metal.most[2], plan.body.thickness_mm);
    for (const auto& ring : skin.overlapping_raised) {
        if (ring.side == plan::Side::A) metal.least[2] = std::min(metal.least[2], -ring.height_mm);
        if (ring.side == plan::Side::B)
            metal.most[2] = std::max(metal.most[2], plan.body.thickness_mm + ring.height_mm);
    }
    return metal;
}

bool is_among(const plan::Cut& cut, const std::vector<plan::Cut>& cuts) {
    const plan::Box2 box = cut.area.outer.box();
    return std::any_of(cuts.begin(), cuts.end(), [&](const plan::Cut& other) {
        const plan::Box2 own = other.area.outer.box();
        return other.role == cut.role && other.owner == cut.owner && own.least == box.least &&
               own.most == box.most;
    });
}

/// The ring with every cut taken away that opens on its face, as those go on past the face, and that does not
/// follow later with what overlaps. Nothing may be left of it.
SkinSolids drilled_ring(const plan::Plan& plan, const plan::SkinResult& skin, const plan::Raised& ring,
                        const plan::Box& metal, const std::string& making) {
    const SkinSolids whole = make_solids(ring_skin(ring, plan.body.thickness_mm), making);
    SkinSolids tools;
    for (const auto& cut : plan::cuts(plan)) {
        const bool opens = ring.side == plan::Side::A ? cut.opens_a : cut.opens_b;
        if (!opens || !boxes_meet(cut.area.outer, ring.outer) || is_among(cut, skin.overlapping)) continue;
        append(tools, make_solids(tool_skin(cut, metal), making));
    }
    if (tools.solids.empty()) return whole;
    BRepAlgoAPI_Cut cut;
    return result_of(cut, whole, tools, making);
}

SkinSolids with_rings(const SkinSolids& plain, const plan::Plan& plan, const plan::SkinResult& skin,
                      const plan::Box& metal, const std::string& making) {
    SkinSolids rings;
    for (const auto& ring : skin.overlapping_raised)
        append(rings, drilled_ring(plan, skin, ring, metal, making));
    if (rings.solids.empty()) return plain;
    if (plain.solids.empty()) return rings;
    BRepAlgoAPI_Fuse fuse;
    return result_of(fuse, plain, rings, making);
}

}  // namespace

SkinSolids take_overlaps(const SkinSolids& plain, const plan::Plan& plan, const plan::SkinResult& skin,
                         const std::string& making, const SkinSolids& drills) {
    return kernel_call(making, [&] {
        const plan::Box metal = metal_of(plan, skin);
        SkinSolids part = with_rings(plain, plan, skin, metal, making);
        SkinSolids tools = drills;
        for (const auto& cut : skin.overlapping) append(tools, make_solids(tool_skin(cut, metal), making));
        if (!tools.solids.empty() && !part.solids.empty()) {
            BRepAlgoAPI_Cut cut;
            part = result_of(cut, part, tools, making);
        }
        return part;
    });
}

void insist_on_validity(const SkinSolids& part, const std::string& making) {
    kernel_call(making, [&] {
        for (const auto& solid : part.solids) {
            lay_edges_on_planes(solid);
            if (!BRepCheck_Analyzer(solid).IsValid())
                throw KernelError(making + ": the boolean left a body that is not valid");
        }
    });
}

}  // namespace fitup::solid
