#include "mesh/rod_mesh.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/error.hpp"
#include "base/vector3.hpp"
#include "plan/rod_path.hpp"

namespace fitup::mesh {

namespace {

/// In a bend a facet strays along the tube and round it; each gets half of the chord.
Fineness shared(const Fineness& fineness) { return {fineness.chord_mm / 2.0, fineness.angle}; }

int pieces_of_bend(const plan::RodBend& bend, double tube_radius_mm, const Fineness& fineness) {
    const double outer_mm = bend.radius_mm + tube_radius_mm;
    const int circle = sides_of_circle(outer_mm, shared(fineness));
    return std::max(1, static_cast<int>(std::ceil(bend.angle.degrees() / 360.0 * circle)));
}

/// Turned about a unit axis by the right-hand rule.
Vector turned(const Vector& v, const Vector& axis, double angle_rad) {
    const Vector ahead = cross(axis, v);
    return v * std::cos(angle_rad) + ahead * std::sin(angle_rad) +
           axis * (dot(axis, v) * (1.0 - std::cos(angle_rad)));
}

Vector square_to(const Vector& along) {
    std::size_t least = 0;
    for (std::size_t i = 1; i < 3; ++i) {
        if (std::abs(along[i]) < std::abs(along[least])) least = i;
    }
    Vector axis{};
    axis[least] = 1.0;
    return unit(axis - along * dot(axis, along));
}

class Strips {
  public:
    Strips(const plan::Rod& rod, const Fineness& fineness)
        : rod_(rod), path_(plan::rod_path(rod)), fineness_(fineness) {
        const double radius_mm = rod.diameter_mm / 2.0;
        sides_ = sides_of_circle(radius_mm, path_.bends.empty() ? fineness : shared(fineness));
        for (const plan::RodBend& bend : path_.bends) rings_ += pieces_of_bend(bend, radius_mm, fineness) + 1;
    }

    /// Both ends with all their steps have eight rings at most.
    double triangles() const { return 2.0 * sides_ * (8.0 + rings_); }

    Mesh mesh() {
        start();
        for (std::size_t i = 0; i < path_.straights.size(); ++i) {
            if (i > 0) add_bend(path_.bends[i - 1]);
            add_straight(i);
        }
        finish();
        return std::move(mesh_);
    }

  private:
    void add_ring(const Vector& centre, double radius_mm) {
        const Vector beside = cross(along_, reference_);
        for (int i = 0; i < sides_; ++i) {
            const Angle angle = Angle::from_degrees(360.0 * i / sides_);
            mesh_.vertices.push_back(centre + (reference_ * angle.cos() + beside * angle.sin()) * radius_mm);
        }
    }

    std::uint32_t at(std::uint32_t ring, int side) const {
        return ring * static_cast<std::uint32_t>(sides_) + static_cast<std::uint32_t>(side % sides_);
    }

    /// The strip from the last ring to a new one.
    void strip_to(const Vector& centre, double radius_mm) {
        const auto before =
            static_cast<std::uint32_t>(mesh_.vertices.size()) / static_cast<std::uint32_t>(sides_) - 1;
        add_ring(centre, radius_mm);
        for (int i = 0; i < sides_; ++i) {
            mesh_.triangles.push_back({at(before, i), at(before, i + 1), at(before + 1, i + 1)});
            mesh_.triangles.push_back({at(before, i), at(before + 1, i + 1), at(before + 1, i)});
        }
    }

    /// The flat of an end. Halved again and again, so that no triangle is a needle.
    void cap(std::uint32_t ring, bool faces_along) {
        for (int step = 1; step < sides_; step *= 2) {
            for (int i = 0; i + step < sides_; i += 2 * step) {
                const std::array<std::uint32_t, 3> corners{at(ring, i), at(ring, i + step),
                                                           at(ring, std::min(i + 2 * step, sides_))};
                if (corners[2] == corners[0]) continue;
                mesh_.triangles.push_back(faces_along ? corners
                                                      : std::array{corners[0], corners[2], corners[1]});
            }
        }
    }

    void start() {
        const plan::RodStraight& straight = path_.straights.front();
        along_ = straight.along;
        reference_ = path_.bends.empty() ? square_to(along_) : path_.bends.front().outward;
        add_ring(straight.from, plan::face_radius_mm(rod_, 0));
        cap(0, false);
        for (const plan::RodStep& step : plan::end_steps(rod_, 0))
            strip_to(straight.from + straight.along * step.to_mm, step.to_radius_mm);
    }

    void add_straight(std::size_t index) {
        const plan::RodStraight& straight = path_.straights[index];
        const double before_mm = index == 0 ? plan::stepped_length_mm(rod_, 0) : 0.0;
        const double after_mm = index + 1 == path_.straights.size() ? plan::stepped_length_mm(rod_, 1) : 0.0;
        if (straight.length_mm - before_mm - after_mm < plan::same_point_mm) return;
        strip_to(straight.to - straight.along * after_mm, rod_.diameter_mm / 2.0);
    }

    void add_bend(const plan::RodBend& bend) {
        const int pieces = pieces_of_bend(bend, rod_.diameter_mm / 2.0, fineness_);
        const Vector along = along_, reference = reference_;
        for (int i = 1; i <= pieces; ++i) {
            const double angle = bend.angle.radians() * i / pieces;
            along_ = turned(along, bend.axis, angle);
            reference_ = turned(reference, bend.axis, angle);
            strip_to(bend.centre + turned(bend.outward, bend.axis, angle) * bend.radius_mm,
                     rod_.diameter_mm / 2.0);
        }
    }

    void finish() {
        const plan::RodStraight& straight = path_.straights.back();
        const std::vector<plan::RodStep> steps = plan::end_steps(rod_, 1);
        for (auto step = steps.rbegin(); step != steps.rend(); ++step)
            strip_to(straight.to - straight.along * step->from_mm, step->from_radius_mm);
        cap(static_cast<std::uint32_t>(mesh_.vertices.size()) / static_cast<std::uint32_t>(sides_) - 1, true);
    }

    const plan::Rod& rod_;
    plan::RodPath path_;
    Fineness fineness_;
    int sides_ = 0;
    double rings_ = 0.0;  ///< of the bends
    Vector along_{};
    Vector reference_{};
    Mesh mesh_;
};

}  // namespace

std::size_t estimated_triangles(const plan::Rod& rod, const Fineness& fineness) {
    return static_cast<std::size_t>(Strips(rod, fineness).triangles());
}

Mesh rod_mesh(const plan::Rod& rod, const Fineness& fineness) {
    Strips strips(rod, fineness);
    if (strips.triangles() > static_cast<double>(most_triangles))
        throw Error("a mesh this fine has over 20 million triangles; make chord or angle larger");
    return strips.mesh();
}

}  // namespace fitup::mesh
