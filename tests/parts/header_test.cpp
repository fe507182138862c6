#include "parts/plates.hpp"

namespace fitup::parts {
namespace {

using namespace testing;

std::string file_with(const std::string& material, const std::string& extra = "") {
    return R"({"format": 1, "part": "adapter_plate", "name": "plate", "units": "in", "material": )" +
           material + R"(, "thickness": 1, "outline": {"round": {"diameter": 9}})" + extra + "}";
}

TEST(Header, everything_shared_comes_into_the_plan) {
    const auto plan = plan_of(file_with("\"mild steel\"", R"(,
        "revision": "C", "quantity": 3, "note": "deburr", "sides": {"A": "engine", "B": "gearbox"},
        "side_materials": {"A": "cast iron", "B": {"name": "gunmetal", "density": 8800}},
        "rules": {"edge-distance": {"warn": 1.25},
                  "web": {"warn": 2, "stop": 1}})"));
    EXPECT_EQ(plan.part, "adapter_plate");
    EXPECT_EQ(plan.name, "plate");
    EXPECT_EQ(plan::file_stem(plan), "plate-rC");
    EXPECT_EQ(plan.quantity, 3);
    EXPECT_EQ(plan.note, "deburr");
    EXPECT_EQ(plan.units, plan::Units::in);
    EXPECT_EQ(plan.side_names[0], "engine");
    EXPECT_EQ(plan.side_names[1], "gearbox");
    ASSERT_TRUE(plan.side_materials[0] && plan.side_materials[1]);
    EXPECT_EQ(plan.side_materials[0]->family, "cast iron");
    EXPECT_EQ(plan.side_materials[1]->density_kg_m3, 8800.0);
    ASSERT_EQ(plan.rule_overrides.size(), 2u);
    EXPECT_EQ(plan.rule_overrides[0].rule, "edge-distance");
    EXPECT_EQ(plan.rule_overrides[0].warn, 1.25);
    EXPECT_FALSE(plan.rule_overrides[0].stop);
    EXPECT_EQ(plan.rule_overrides[1].stop, 1.0);
    EXPECT_EQ(plan.rule_overrides[1].line, 5);
}

// ASTM A36: 7850 kg/m3, 200 GPa, 250 MPa.
TEST(Header, a_material_of_the_table_comes_with_its_figures) {
    const auto material = plan_of(file_with("\"mild steel\"")).material;
    EXPECT_EQ(material.name, "mild steel A36");
    EXPECT_EQ(material.density_kg_m3, 7850.0);
    EXPECT_EQ(material.youngs_modulus_gpa, 200.0);
    EXPECT_EQ(material.yield_mpa, 250.0);
    EXPECT_EQ(material.family, "steel");
    EXPECT_FALSE(material.source.empty());
}

TEST(Header, a_material_of_the_files_own_has_only_what_it_says) {
    const auto material =
        plan_of(file_with(R"({"name": "gunmetal", "density": 8800, "expansion": 1.8e-5})")).material;
    EXPECT_EQ(material.name, "gunmetal");
    EXPECT_EQ(material.density_kg_m3, 8800.0);
    EXPECT_EQ(material.expansion_per_k, 1.8e-5);
    EXPECT_FALSE(material.youngs_modulus_gpa);
    EXPECT_EQ(material.family, "");
}

TEST(Header, without_the_optional_keys_has_their_defaults) {
    const auto plan = plan_of(file_with("\"mild steel\""));
    EXPECT_EQ(plan.quantity, 1);
    EXPECT_EQ(plan::file_stem(plan), "plate");
    EXPECT_TRUE(plan.rule_overrides.empty());
    EXPECT_FALSE(plan.side_materials[0]);
}

}  // namespace
}  // namespace fitup::parts
