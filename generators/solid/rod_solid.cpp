#include "solid/rod_solid.hpp"

#include <BRep_Builder.hxx>
#include <BRep_Tool.hxx>
#include <TopoDS_Shell.hxx>
#include <cmath>
#include <gp_Ax3.hxx>

#include "base/text.hpp"
#include "base/vector3.hpp"
#include "plan/rod_path.hpp"
#include "solid/kernel_call.hpp"
#include "solid/rod_faces.hpp"
#include "solid/solid_impl.hpp"

namespace fitup::solid {
namespace {

gp_Pnt point(const Vector& p) { return {p[0], p[1], p[2]}; }
gp_Dir dir(const Vector& p) { return {p[0], p[1], p[2]}; }

/// Faces in the order of the path, each from the ring that the one before it ended on.
class RodFaces {
  public:
    RodFaces(const plan::Rod& rod, const plan::RodPath& path) : rod_(rod), path_(path) {
        builder_.MakeShell(shell_);
    }

    std::shared_ptr<const KernelBody> body() {
        start();
        for (std::size_t i = 0; i < path_.straights.size(); ++i) {
            if (i > 0) add_bend(i - 1);
            add_straight(i);
        }
        finish();
        shell_.Closed(true);
        TopoDS_Solid solid;
        builder_.MakeSolid(solid);
        builder_.Add(solid, shell_);
        return std::make_shared<const KernelBody>(solid, names_);
    }

  private:
    void add(const TopoDS_Face& face, const std::string& name) {
        builder_.Add(shell_, face);
        names_.Bind(face, name);
    }

    /// Ends the running face on a new ring on the same axis.
    void turn_to(const Vector& centre, double radius_mm, const std::string& name) {
        const RodRing next = rod_ring(point(centre), last_.along, last_.reference, radius_mm);
        add(turned_face(last_, next), name);
        last_ = next;
    }

    /// Any direction square to the first straight; the first bend's, so that seams lie on the outside of it.
    Vector first_reference() const {
        if (!path_.bends.empty()) return path_.bends.front().outward;
        const Vector& along = path_.straights.front().along;
        std::size_t least = 0;
        for (const std::size_t i : {std::size_t{1}, std::size_t{2}}) {
            if (std::abs(along[i]) < std::abs(along[least])) least = i;
        }
        Vector axis{};
        axis[least] = 1.0;
        return unit(axis - along * dot(axis, along));
    }

    static std::string step_name(const plan::RodStep& step, const std::string& end) {
        if (step.from_mm == step.to_mm) return "shoulder-" + end;
        return (step.from_radius_mm == step.to_radius_mm ? "turned-" : "chamfer-") + end;
    }

    /// Helical faces and the flat before them; the ring where the thread has run out.
    RodRing add_thread(const plan::ThreadedLength& thread, std::size_t end, const gp_Dir& along,
                       const gp_Dir& reference) {
        const bool is_last = end == 1;
        const gp_Pnt face = point(is_last ? path_.straights.back().to : path_.straights.front().from);
        const gp_Dir inward = is_last ? along.Reversed() : along;
        gp_Trsf place;
        place.SetDisplacement(gp_Ax3(), gp_Ax3(face, inward, reference));
        const ThreadSkin skin = thread_skin(thread, place);
        const std::string number = std::to_string(end + 1);
        for (const TopoDS_Face& one : skin.faces) add(one, "thread-" + number);
        add(flat_face(skin.start, nullptr, false, place), "end-" + number);
        const gp_Pnt centre = face.XYZ() + inward.XYZ() * thread.end_mm();
        return ring_of_thread(skin.finish, centre, along, reference, is_last);
    }

    void start() {
        const plan::RodStraight& straight = path_.straights.front();
        if (const auto thread = plan::modelled_thread(rod_, 0)) {
            last_ = add_thread(*thread, 0, dir(straight.along), dir(first_reference()));
            for (const plan::RodStep& step : plan::end_steps(rod_, 0))
                turn_to(straight.from + straight.along * step.to_mm, step.to_radius_mm, "shoulder-1");
            return;
        }
        last_ = rod_ring(point(straight.from), dir(straight.along), dir(first_reference()),
                         plan::face_radius_mm(rod_, 0));
        add(first_face(last_), "end-1");
        for (const plan::RodStep& step : plan::end_steps(rod_, 0))
            turn_to(straight.from + straight.along * step.to_mm, step.to_radius_mm, step_name(step, "1"));
    }

    void add_straight(std::size_t index) {
        const plan::RodStraight& straight = path_.straights[index];
        const bool is_first = index == 0, is_last = index + 1 == path_.straights.size();
        const double cut_mm = (is_first ? plan::stepped_length_mm(rod_, 0) : 0.0) +
                              (is_last ? plan::stepped_length_mm(rod_, 1) : 0.0);
        if (is_last && plan::modelled_thread(rod_, 1))
            return add_last_thread(straight, straight.length_mm - cut_mm);
        if (straight.length_mm - cut_mm < plan::same_point_mm) return;
        const double back_mm = is_last ? plan::stepped_length_mm(rod_, 1) : 0.0;
        turn_to(straight.to - straight.along * back_mm, rod_.diameter_mm / 2.0,
                "straight-" + std::to_string(index + 1));
    }

    /// The last straight up to a thread, whose own ring ends it.
    void add_last_thread(const plan::RodStraight& straight, double shank_mm) {
        const plan::ThreadedLength thread = *plan::modelled_thread(rod_, 1);
        const RodRing run_out = add_thread(thread, 1, last_.along, last_.reference);
        const bool has_shoulder = !plan::end_steps(rod_, 1).empty();
        if (shank_mm >= plan::same_point_mm && has_shoulder)
            turn_to(straight.to - straight.along * thread.end_mm(), rod_.diameter_mm / 2.0, last_straight());
        add(turned_face(last_, run_out), has_shoulder ? "shoulder-2" : last_straight());
        last_ = run_out;
    }
    std::string last_straight() const { return "straight-" + std::to_string(path_.straights.size()); }

    void add_bend(std::size_t index) {
        const plan::RodBend& bend = path_.bends[index];
        const RodRing next = rod_ring(point(bend.to), dir(path_.straights[index + 1].along),
                                      turned_with(bend, last_.reference), rod_.diameter_mm / 2.0);
        add(bend_face(bend, last_, next), "bend-" + std::to_string(index + 1));
        last_ = next;
    }

    void finish() {
        if (plan::modelled_thread(rod_, 1)) return;
        const plan::RodStraight& straight = path_.straights.back();
        const std::vector<plan::RodStep> steps = plan::end_steps(rod_, 1);
        for (auto step = steps.rbegin(); step != steps.rend(); ++step)
            turn_to(straight.to - straight.along * step->from_mm, step->from_radius_mm,
                    step_name(*step, "2"));
        add(last_face(last_), "end-2");
    }

    const plan::Rod& rod_;
    const plan::RodPath& path_;
    BRep_Builder builder_;
    TopoDS_Shell shell_;
    FaceNames names_;
    RodRing last_;
};

void check(const KernelBody& body, const plan::RodFigures& figures, double within,
           const std::string& making) {
    const double off = std::abs(body.volume_mm3() - figures.volume_mm3);
    if (off <= within * figures.volume_mm3) return;
    throw KernelError(making + ": the solid has " + shortest_text(body.volume_mm3()) +
                      " mm3 where the plan says " + shortest_text(figures.volume_mm3) + " mm3");
}

}  // namespace

Built build_rod(const plan::Plan& plan) {
    const std::string making = plan.name.empty() ? "the rod" : "the rod of " + plan.name;
    return kernel_call(making, [&]() -> Built {
        const plan::RodPath path = plan::rod_path(*plan.rod);
        auto body = RodFaces(*plan.rod, path).body();
        check(*body, plan::rod_figures(*plan.rod, path), plan::volume_within(*plan.rod), making);
        return {std::make_shared<const Solid>(std::move(body)), {}};
    });
}

}  // namespace fitup::solid
