#pragma once

namespace fitup {

/// An angle that can't be mistaken for a number: made from and read as degrees or radians, by name.
///
/// Sine and cosine of multiples of 90 degrees are exact (0, 1 or -1), so that a hole on an axis has a
/// coordinate of 0.
class Angle {
  public:
    constexpr Angle() = default;
    static constexpr Angle from_degrees(double degrees) { return Angle(degrees); }
    static Angle from_radians(double radians);

    constexpr double degrees() const { return degrees_; }
    double radians() const;
    double sin() const;
    double cos() const;
    double tan() const;

    friend constexpr Angle operator+(Angle a, Angle b) { return Angle(a.degrees_ + b.degrees_); }
    friend constexpr Angle operator-(Angle a, Angle b) { return Angle(a.degrees_ - b.degrees_); }
    friend constexpr Angle operator*(Angle a, double factor) { return Angle(a.degrees_ * factor); }
    friend constexpr bool operator==(Angle a, Angle b) = default;

  private:
    constexpr explicit Angle(double degrees) : degrees_(degrees) {}
    double degrees_ = 0.0;
};

}  // namespace fitup
