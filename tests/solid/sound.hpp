#pragma once

#include <gtest/gtest.h>

#include <string>

#include "plan/skin.hpp"
#include "solid/solid.hpp"

/// What "sound" means of a solid; every test of one ends in it.
namespace fitup::solid {

/// One closed solid without gaps, valid to the kernel's full check, each face named.
void expect_valid(const Solid& solid);

/// Valid, and volume, area and box as the skin's closed form says; each wall of the skin is there with its
/// name, at its place, metal on the right side.
void expect_sound(const Solid& solid, const plan::Skin& skin);

/// Builds and insists that there is a solid.
Solid built(const plan::Plan& plan, const plan::SkinResult& skin);
Solid built(const plan::Plan& plan);

/// Round walls with this name, as "hole r 5.5 at 10, 20 from 0 to 12".
std::vector<std::string> walls_named(const Solid& solid, const std::string& name);

}  // namespace fitup::solid
