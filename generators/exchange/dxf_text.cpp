#include <cmath>
#include <set>

#include "base/text.hpp"
#include "base/units.hpp"
#include "exchange/dxf.hpp"
#include "plan/stroke.hpp"

namespace fitup::exchange {

namespace {

/// A nanometre: far finer than anything is cut, and short enough to read.
constexpr int decimals = 9;

/// What other records point at; the rest are counted on from here.
enum Handle : int {
    root_dictionary = 0xC,
    vport_table = 0x8,
    ltype_table = 0x5,
    layer_table = 0x2,
    style_table = 0x3,
    view_table = 0x6,
    ucs_table = 0x7,
    appid_table = 0x9,
    dimstyle_table = 0xA,
    block_table = 0x1,
    group_dictionary = 0xD,
    model_space = 0x1F,
    paper_space = 0x1B,
    first_free = 0x100
};

class DxfText {
  public:
    DxfText(const plan::Profile& profile, plan::Units units)
        : profile_(profile), units_(units), per_mm_(units == plan::Units::in ? 1.0 / mm_per_inch : 1.0) {}

    std::string write() {
        for (const plan::ProfileCurve& curve : profile_.curves) layers_.insert(curve.layer);
        for (const plan::ProfileLine& line : profile_.lines) layers_.insert(line.layer);
        // The header states the next free handle, which is known when all is written.
        std::string body;
        std::swap(text_, body);
        tables();
        blocks();
        entities();
        objects();
        std::swap(text_, body);
        header();
        return text_ + body + "0\nEOF\n";
    }

  private:
    void put(int code, const std::string& value) { text_ += std::to_string(code) + "\n" + value + "\n"; }
    void put(int code, const char* value) { put(code, std::string(value)); }
    void put(int code, int value) { put(code, std::to_string(value)); }
    void put_number(int code, double value) { put(code, fixed_text(value, decimals)); }
    void put_length(int code, double value_mm) { put_number(code, value_mm * per_mm_); }
    void put_handle(int code, int handle) { put(code, hex(handle)); }

    static std::string hex(int value) {
        constexpr std::string_view digits = "0123456789ABCDEF";
        std::string text;
        for (; value > 0 || text.empty(); value /= 16)
            text.insert(text.begin(), digits[std::size_t(value % 16)]);
        return text;
    }

    int next_handle() { return handle_++; }
    void begin(const char* section) {
        put(0, "SECTION");
        put(2, section);
    }
    void end() { put(0, "ENDSEC"); }

    void header() {
        begin("HEADER");
        put(9, "$ACADVER");
        put(1, "AC1015");
        put(9, "$HANDSEED");
        put_handle(5, handle_);
        put(9, "$INSUNITS");
        put(70, units_ == plan::Units::in ? 1 : 4);
        put(9, "$MEASUREMENT");
        put(70, units_ == plan::Units::in ? 0 : 1);
        end();
        begin("CLASSES");
        end();
    }

    void table(const char* name, Handle handle, int count) {
        put(0, "TABLE");
        put(2, name);
        put_handle(5, handle);
        put_handle(330, 0);
        put(100, "AcDbSymbolTable");
        put(70, count);
    }
    void end_table() { put(0, "ENDTAB"); }

    void record(const char* kind, Handle table, int handle, const char* subclass, const std::string& name) {
        put(0, kind);
        put_handle(5, handle == -1 ? next_handle() : handle);
        put_handle(330, table);
        put(100, "AcDbSymbolTableRecord");
        put(100, subclass);
        put(2, name);
    }

    void tables() {
        begin("TABLES");
        table("VPORT", vport_table, 0);
        end_table();
        line_types();
        layers();
        text_styles();
        table("VIEW", view_table, 0);
        end_table();
        table("UCS", ucs_table, 0);
        end_table();
        table("APPID", appid_table, 1);
        record("APPID", appid_table, -1, "AcDbRegAppTableRecord", "ACAD");
        put(70, 0);
        end_table();
        table("DIMSTYLE", dimstyle_table, 0);
        put(100, "AcDbDimStyleTable");
        end_table();
        table("BLOCK_RECORD", block_table, 2);
        record("BLOCK_RECORD", block_table, model_space, "AcDbBlockTableRecord", "*Model_Space");
        record("BLOCK_RECORD", block_table, paper_space, "AcDbBlockTableRecord", "*Paper_Space");
        end_table();
        end();
    }

    void line_types() {
        table("LTYPE", ltype_table, 3);
        for (const char* name : {"ByBlock", "ByLayer", "Continuous"}) {
            record("LTYPE", ltype_table, -1, "AcDbLinetypeTableRecord", name);
            put(70, 0);
            put(3, "");
            put(72, 65);
            put(73, 0);
            put_number(40, 0.0);
        }
        end_table();
    }

    void layers() {
        // Layer 0 must be there whether used or not.
        table("LAYER", layer_table, int(layers_.size()) + 1);
        layer("0");
        for (const std::string& name : layers_) layer(name);
        end_table();
    }

    void layer(const std::string& name) {
        record("LAYER", layer_table, -1, "AcDbLayerTableRecord", name);
        put(70, 0);
        put(62, 7);
        put(6, "Continuous");
    }

    void text_styles() {
        table("STYLE", style_table, 1);
        record("STYLE", style_table, -1, "AcDbTextStyleTableRecord", "Standard");
        put(70, 0);
        put_number(40, 0.0);
        put_number(41, 1.0);
        put_number(50, 0.0);
        put(71, 0);
        put_number(42, 2.5);
        put(3, "txt");
        put(4, "");
        end_table();
    }

    void blocks() {
        begin("BLOCKS");
        block("*Model_Space", model_space, false);
        block("*Paper_Space", paper_space, true);
        end();
    }

    void block(const char* name, Handle owner, bool is_paper) {
        const auto owned = [&](const char* kind, const char* subclass) {
            put(0, kind);
            put_handle(5, next_handle());
            put_handle(330, owner);
            put(100, "AcDbEntity");
            if (is_paper) put(67, 1);
            put(8, "0");
            put(100, subclass);
        };
        owned("BLOCK", "AcDbBlockBegin");
        put(2, name);
        put(70, 0);
        for (const int code : {10, 20, 30}) put_number(code, 0.0);
        put(3, name);
        put(1, "");
        owned("ENDBLK", "AcDbBlockEnd");
    }

    void entity(const char* kind, const std::string& layer, const char* subclass) {
        put(0, kind);
        put_handle(5, next_handle());
        put_handle(330, model_space);
        put(100, "AcDbEntity");
        put(8, layer);
        put(100, subclass);
    }

    void put_point(int code, plan::Point point) {
        put_length(code, point.x_mm);
        put_length(code + 10, point.y_mm);
        put_number(code + 20, 0.0);
    }

    void entities() {
        begin("ENTITIES");
        for (const plan::ProfileCurve& curve : profile_.curves) {
            if (const plan::Circle* circle = curve.curve.circle())
                this->circle(curve.layer, *circle);
            else
                polyline(curve.layer, curve.curve);
        }
        for (const plan::ProfileLine& line : profile_.lines) {
            entity("LINE", line.layer, "AcDbLine");
            put_point(10, line.ends[0]);
            put_point(11, line.ends[1]);
        }
        end();
    }

    void circle(const std::string& layer, const plan::Circle& circle) {
        entity("CIRCLE", layer, "AcDbCircle");
        put_point(10, circle.centre);
        put_length(40, circle.radius_mm);
    }

    void polyline(const std::string& layer, const plan::Contour& contour) {
        entity("LWPOLYLINE", layer, "AcDbPolyline");
        put(90, int(contour.strokes().size()));
        put(70, 1);
        for (const plan::Stroke& stroke : contour.strokes()) {
            put_length(10, stroke.from.x_mm);
            put_length(20, stroke.from.y_mm);
            // An arc's bulge: the tangent of a quarter of its sweep.
            if (!stroke.is_line()) put_number(42, std::tan(stroke.sweep_rad / 4.0));
        }
    }

    void objects() {
        begin("OBJECTS");
        put(0, "DICTIONARY");
        put_handle(5, root_dictionary);
        put_handle(330, 0);
        put(100, "AcDbDictionary");
        put(281, 1);
        put(3, "ACAD_GROUP");
        put_handle(350, group_dictionary);
        put(0, "DICTIONARY");
        put_handle(5, group_dictionary);
        put_handle(330, root_dictionary);
        put(100, "AcDbDictionary");
        put(281, 1);
        end();
    }

    const plan::Profile& profile_;
    plan::Units units_;
    double per_mm_;
    int handle_ = first_free;
    std::set<std::string> layers_;
    std::string text_;
};

}  // namespace

std::string dxf_text(const plan::Profile& profile, plan::Units units) {
    return DxfText(profile, units).write();
}

}  // namespace fitup::exchange
