// 3MF: written through the library and read back strictly; its XML looked at by itself, with another
// unzipper.
#include "exchange/print_file.hpp"

#include <gtest/gtest.h>
#include <sys/wait.h>

#include <cerrno>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <regex>

#include "base/error.hpp"
#include "base/file.hpp"
#include "exchange/printing.hpp"
#include "mesh/mesh.hpp"
#include "plan/skin.hpp"
#include "solid/plates.hpp"

namespace fitup::exchange {
namespace {

namespace fs = std::filesystem;

PrintBody body(const std::string& name) {
    return {name,
            "aluminium 6061-T6",
            {0.8, 0.82, 0.85},
            mesh::mesh_of(plan::skin(plates::many_holes(9)).skin, {})};
}

TEST(PrintFile, bodies_come_back_with_name_volume_and_every_edge_closed) {
    const std::vector<PrintBody> bodies{body("winch-adapter"), body("second")};
    const auto found = print_files().read(print_files().write(bodies, "two plates"), "p.3mf");
    ASSERT_EQ(found.size(), 2u);
    for (std::size_t i = 0; i < 2; ++i) {
        EXPECT_EQ(found[i].name, bodies[i].name);
        EXPECT_TRUE(mesh::is_watertight(found[i].mesh));
        // Single precision: seven digits.
        EXPECT_NEAR(mesh::volume_mm3(found[i].mesh), mesh::volume_mm3(bodies[i].mesh),
                    1e-5 * mesh::volume_mm3(bodies[i].mesh));
    }
}

TEST(PrintFile, the_same_bodies_give_the_same_bytes) {
    const PrintBody one = body("winch-adapter");
    EXPECT_EQ(print_files().write({&one, 1}, "t"), print_files().write({&one, 1}, "t"));
}

TEST(PrintFile, says_millimetres_name_and_a_colour_that_can_be_seen) {
    const fs::path file = fs::temp_directory_path() / ("fitup-3mf-" + std::to_string(::getpid()) + ".3mf");
    const PrintBody one = body("winch-adapter");
    std::ofstream(file, std::ios::binary) << print_files().write({&one, 1}, "winch-adapter");
    const fs::path xml = file.string() + ".xml";
    const std::string call =
        "/usr/bin/python3 -c \"import zipfile,sys; sys.stdout.buffer.write(zipfile.ZipFile('" +
        file.string() + "').read('3D/3dmodel.model'))\" >'" + xml.string() + "'";
    ASSERT_EQ(std::system(call.c_str()), 0);
    const std::string text = read_file(xml);
    EXPECT_NE(text.find("unit=\"millimeter\""), std::string::npos);
    EXPECT_NE(text.find("name=\"winch-adapter\""), std::string::npos);
    EXPECT_TRUE(
        std::regex_search(text, std::regex("<base name=\"aluminium 6061-T6\" displaycolor=\"#CCD1D9(FF)?\"")))
        << text.substr(0, 1500);
    fs::remove(file);
    fs::remove(xml);
}

TEST(PrintFile, written_in_a_process_of_its_own_has_the_same_bytes) {
    const PrintBody one = body("winch-adapter");
    EXPECT_EQ(Printing(one, "t").finish(), print_files().write({&one, 1}, "t"));
    // One that nobody waits for leaves no process behind.
    { const Printing forgotten(one, "t"); }
    errno = 0;
    EXPECT_EQ(::waitpid(-1, nullptr, WNOHANG), -1);
    EXPECT_EQ(errno, ECHILD);
}

TEST(PrintFile, what_the_library_refuses_in_there_is_said_here) {
    PrintBody open = body("x");
    for (auto& triangle : open.mesh.triangles) triangle = {0, 0, 0};
    std::string here, there;
    try {
        print_files().write({&open, 1}, "t");
    } catch (const KernelError& error) {
        here = error.what();
    }
    try {
        Printing(open, "t").finish();
    } catch (const KernelError& error) {
        there = error.what();
    }
    EXPECT_NE(here, "");
    EXPECT_EQ(here, there);
}

TEST(PrintFile, what_is_no_3mf_is_refused_by_name) {
    const PrintBody one = body("x");
    const std::string whole = print_files().write({&one, 1}, "x");
    for (const std::string& bytes :
         {std::string(), std::string("PK no zip"), whole.substr(0, whole.size() / 2)}) {
        try {
            print_files().read(bytes, "f.3mf");
            ADD_FAILURE() << "taken: " << bytes.size() << " bytes";
        } catch (const FileError& error) {
            EXPECT_EQ(error.file(), "f.3mf");
        }
    }
}

}  // namespace
}  // namespace fitup::exchange
