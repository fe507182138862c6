#include "exchange/print_file.hpp"

#include <Model/COM/NMR_DLLInterfaces.h>

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <utility>

#include "base/error.hpp"

namespace fitup::exchange {

namespace {

/// A reference that is given back.
template <typename Object>
class Held {
  public:
    Held() = default;
    Held(const Held&) = delete;
    Held& operator=(const Held&) = delete;
    ~Held() {
        if (object_) NMR::lib3mf_release(object_);
    }
    Object** out() { return &object_; }
    operator Object*() const { return object_; }

  private:
    Object* object_ = nullptr;
};

std::string words_of(NMR::PLib3MFBase* object) {
    DWORD code = 0;
    LPCSTR words = nullptr;
    if (object == nullptr || NMR::lib3mf_getlasterror(object, &code, &words) != LIB3MF_OK || words == nullptr)
        return "no reason given";
    return words;
}

void insist(LIB3MFRESULT result, NMR::PLib3MFBase* object, const char* what) {
    if (result != LIB3MF_OK)
        throw KernelError(std::string("the 3MF file can't be written: ") + what + ": " + words_of(object));
}

/// Made from the text, so that the same file has the same: 128 bits by FNV-1a, as a version 8 UUID (RFC 9562:
/// of one's own making).
std::string uuid_of(const std::string& text) {
    const auto hash = [&text](std::uint64_t value) {
        for (const unsigned char letter : text) value = (value ^ letter) * 1099511628211ull;
        return value;
    };
    std::uint64_t high = hash(14695981039346656037ull), low = hash(high ^ 0x9E3779B97F4A7C15ull);
    high = (high & ~0xF000ull) | 0x8000ull;
    low = (low & ~(3ull << 62)) | (2ull << 62);
    std::string digits;
    for (const std::uint64_t half : {high, low}) {
        for (int shift = 60; shift >= 0; shift -= 4) digits += "0123456789abcdef"[(half >> shift) & 15];
    }
    for (const std::size_t dash : {20u, 16u, 12u, 8u}) digits.insert(dash, "-");
    return digits;
}

BYTE level(double share) { return BYTE(std::lround(std::clamp(share, 0.0, 1.0) * 255.0)); }

/// What the library writes to, forwards or over what is there. Its callbacks return 0 for success.
struct Bytes {
    std::string text;
    std::size_t at = 0;

    static std::uint32_t write(BYTE* data, std::uint32_t count, void* self) {
        auto& bytes = *static_cast<Bytes*>(self);
        if (bytes.text.size() < bytes.at + count) bytes.text.resize(bytes.at + count);
        std::copy_n(data, count, bytes.text.begin() + std::ptrdiff_t(bytes.at));
        bytes.at += count;
        return 0;
    }
    static std::uint32_t seek(ULONG64 to, void* self) {
        static_cast<Bytes*>(self)->at = to;
        return 0;
    }
};

class Writing {
  public:
    Writing() {
        if (NMR::lib3mf_createmodel(model_.out()) != LIB3MF_OK)
            throw KernelError("the 3MF file can't be written: no model");
        insist(NMR::lib3mf_model_setunit(model_, NMR::MODELUNIT_MILLIMETER), model_, "unit");
    }

    void title(const std::string& text) {
        insist(NMR::lib3mf_model_addmetadatautf8(model_, "Title", text.c_str()), model_, "title");
        insist(NMR::lib3mf_model_setbuilduuidutf8(model_, uuid_of("build " + text).c_str()), model_, "build");
    }

    void add(const PrintBody& body, const std::string& place) {
        Held<NMR::PLib3MFModelMeshObject> object;
        insist(NMR::lib3mf_model_addmeshobject(model_, object.out()), model_, "body");
        insist(NMR::lib3mf_object_setnameutf8(object, body.name.c_str()), object, "name");
        insist(NMR::lib3mf_object_setuuidutf8(object, uuid_of("body " + place).c_str()), object, "identity");
        set_geometry(object, body.mesh);
        paint(object, body);
        Held<NMR::PLib3MFModelBuildItem> item;
        insist(NMR::lib3mf_model_addbuilditem(model_, object, nullptr, item.out()), model_, "item");
        insist(NMR::lib3mf_builditem_setuuidutf8(item, uuid_of("item " + place).c_str()), item, "identity");
    }

    std::string bytes() {
        Held<NMR::PLib3MFModelWriter> writer;
        insist(NMR::lib3mf_model_querywriter(model_, "3mf", writer.out()), model_, "writer");
        // Not asked for its size before: that writes everything once more.
        Bytes bytes;
        insist(NMR::lib3mf_writer_writetocallback(writer, reinterpret_cast<void*>(&Bytes::write),
                                                  reinterpret_cast<void*>(&Bytes::seek), &bytes),
               writer, "writing");
        return std::move(bytes.text);
    }

  private:
    static void set_geometry(NMR::PLib3MFModelMeshObject* object, const mesh::Mesh& mesh) {
        std::vector<NMR::MODELMESHVERTEX> vertices;
        for (const auto& v : mesh.vertices) vertices.push_back({{float(v[0]), float(v[1]), float(v[2])}});
        std::vector<NMR::MODELMESHTRIANGLE> triangles;
        for (const auto& t : mesh.triangles) triangles.push_back({{t[0], t[1], t[2]}});
        insist(NMR::lib3mf_meshobject_setgeometry(object, vertices.data(), DWORD(vertices.size()),
                                                  triangles.data(), DWORD(triangles.size())),
               object, "triangles");
    }

    void paint(NMR::PLib3MFModelMeshObject* object, const PrintBody& body) {
        Held<NMR::PLib3MFModelBaseMaterial> group;
        insist(NMR::lib3mf_model_addbasematerialgroup(model_, group.out()), model_, "material");
        DWORD index = 0, id = 0;
        const BYTE red = level(body.srgb[0]), green = level(body.srgb[1]), blue = level(body.srgb[2]);
        insist(
            NMR::lib3mf_basematerial_addmaterialutf8(group, body.material.c_str(), red, green, blue, &index),
            group, "material");
        // It is added invisible, alpha 0.
        insist(NMR::lib3mf_basematerial_setdisplaycolorrgba(group, index, red, green, blue, 255), group,
               "colour");
        insist(NMR::lib3mf_basematerial_getresourceid(group, &id), group, "material");
        Held<NMR::PLib3MFDefaultPropertyHandler> handler;
        insist(NMR::lib3mf_object_createdefaultpropertyhandler(object, handler.out()), object, "colour");
        insist(NMR::lib3mf_defaultpropertyhandler_setbasematerial(handler, id, index), handler, "colour");
    }

    Held<NMR::PLib3MFModel> model_;
};

class Reading {
  public:
    Reading(std::string_view bytes, const std::string& name) : name_(name) {
        check(NMR::lib3mf_createmodel(model_.out()), nullptr);
        Held<NMR::PLib3MFModelReader> reader;
        check(NMR::lib3mf_model_queryreader(model_, "3mf", reader.out()), model_);
        check(NMR::lib3mf_reader_setstrictmodeactive(reader, true), reader);
        std::string copy(bytes);
        check(NMR::lib3mf_reader_readfrombuffer(reader, reinterpret_cast<BYTE*>(copy.data()), copy.size()),
              reader);
    }

    std::vector<PrintBody> bodies() {
        Held<NMR::PLib3MFModelResourceIterator> iterator;
        check(NMR::lib3mf_model_getmeshobjects(model_, iterator.out()), model_);
        std::vector<PrintBody> found;
        for (;;) {
            BOOL has_next = false;
            check(NMR::lib3mf_resourceiterator_movenext(iterator, &has_next), iterator);
            if (!has_next) return found;
            Held<NMR::PLib3MFModelResource> resource;
            check(NMR::lib3mf_resourceiterator_getcurrent(iterator, resource.out()), iterator);
            found.push_back(body(resource));
        }
    }

  private:
    void check(LIB3MFRESULT result, NMR::PLib3MFBase* object) const {
        if (result != LIB3MF_OK) throw FileError(name_, "this is no sound 3MF file: " + words_of(object));
    }

    PrintBody body(NMR::PLib3MFModelResource* resource) const {
        auto* object = static_cast<NMR::PLib3MFModelMeshObject*>(resource);
        PrintBody body;
        ULONG letters = 0;
        check(NMR::lib3mf_object_getnameutf8(object, nullptr, 0, &letters), object);
        body.name.resize(letters + 1);
        check(NMR::lib3mf_object_getnameutf8(object, body.name.data(), letters + 1, &letters), object);
        body.name.resize(std::char_traits<char>::length(body.name.c_str()));
        DWORD vertices = 0, triangles = 0;
        check(NMR::lib3mf_meshobject_getvertexcount(object, &vertices), object);
        check(NMR::lib3mf_meshobject_gettrianglecount(object, &triangles), object);
        for (DWORD i = 0; i < vertices; ++i) {
            NMR::MODELMESHVERTEX vertex{};
            check(NMR::lib3mf_meshobject_getvertex(object, i, &vertex), object);
            body.mesh.vertices.push_back(
                {vertex.m_fPosition[0], vertex.m_fPosition[1], vertex.m_fPosition[2]});
        }
        for (DWORD i = 0; i < triangles; ++i) {
            NMR::MODELMESHTRIANGLE triangle{};
            check(NMR::lib3mf_meshobject_gettriangle(object, i, &triangle), object);
            body.mesh.triangles.push_back(
                {triangle.m_nIndices[0], triangle.m_nIndices[1], triangle.m_nIndices[2]});
        }
        return body;
    }

    std::string name_;
    Held<NMR::PLib3MFModel> model_;
};

class PrintLibrary final : public PrintFiles {
  public:
    std::string write(std::span<const PrintBody> bodies, const std::string& title) const override {
        Writing writing;
        writing.title(title);
        for (std::size_t i = 0; i < bodies.size(); ++i)
            writing.add(bodies[i], title + " " + std::to_string(i) + " " + bodies[i].name);
        return writing.bytes();
    }
    std::vector<PrintBody> read(std::string_view bytes, const std::string& name) const override {
        return Reading(bytes, name).bodies();
    }
};

}  // namespace

}  // namespace fitup::exchange

extern "C" const fitup::exchange::PrintFiles* fitup_print_files() {
    static const fitup::exchange::PrintLibrary library;
    return &library;
}
