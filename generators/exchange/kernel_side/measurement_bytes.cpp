#include "exchange/kernel_side/measurement_bytes.hpp"

#include <cstring>
#include <type_traits>

#include "base/error.hpp"

namespace fitup::exchange {
namespace {

/// One description of the fields for both ways: `visit` writes them or reads them.
template <class Visit>
void fields(Visit& visit, auto& cylinder) requires requires {
    cylinder.sweep_deg;
}
{
    visit(cylinder.axis_point, cylinder.axis, cylinder.radius_mm, cylinder.low_mm, cylinder.high_mm,
          cylinder.is_hole, cylinder.sweep_deg, cylinder.names);
}

template <class Visit>
void fields(Visit& visit, auto& cone) requires requires {
    cone.radius_low_mm;
}
{
    visit(cone.axis_point, cone.axis, cone.radius_low_mm, cone.radius_high_mm, cone.low_mm, cone.high_mm,
          cone.is_hole);
}

template <class Visit>
void fields(Visit& visit, auto& found) requires requires {
    found.bodies;
}
{
    visit(found.volume_mm3, found.area_mm2, found.box.least, found.box.most, found.bodies, found.closed,
          found.cylinders, found.cones, found.bends, found.product_name, found.unit, found.doubt_mm);
}

class Writer {
  public:
    template <class... Fields>
    void operator()(const Fields&... values) {
        (write(values), ...);
    }
    std::string bytes;

  private:
    template <class Value>
    void write(const Value& value) {
        if constexpr (std::is_trivially_copyable_v<Value> && !requires { value.radius_low_mm; }) {
            bytes.append(reinterpret_cast<const char*>(&value), sizeof(value));
        } else {
            fields(*this, value);
        }
    }
    void write(const std::string& text) {
        write(text.size());
        bytes += text;
    }
    template <class Item>
    void write(const std::vector<Item>& items) {
        write(items.size());
        for (const auto& item : items) write(item);
    }
};

class Reader {
  public:
    explicit Reader(std::string_view bytes) : bytes_(bytes) {}
    template <class... Fields>
    void operator()(Fields&... values) {
        (read(values), ...);
    }

  private:
    std::string_view take(std::size_t count) {
        if (count > bytes_.size()) throw KernelError("the measurement came back cut short");
        const auto part = bytes_.substr(0, count);
        bytes_.remove_prefix(count);
        return part;
    }
    template <class Value>
    void read(Value& value) {
        if constexpr (std::is_trivially_copyable_v<Value> && !requires { value.radius_low_mm; }) {
            std::memcpy(&value, take(sizeof(value)).data(), sizeof(value));
        } else {
            fields(*this, value);
        }
    }
    void read(std::string& text) {
        std::size_t size = 0;
        read(size);
        text = take(size);
    }
    template <class Item>
    void read(std::vector<Item>& items) {
        std::size_t size = 0;
        read(size);
        if (size > bytes_.size()) throw KernelError("the measurement came back cut short");
        items.resize(size);
        for (auto& item : items) read(item);
    }
    std::string_view bytes_;
};

}  // namespace

std::string to_bytes(const Measurement& measurement) {
    Writer writer;
    fields(writer, measurement);
    return std::move(writer.bytes);
}

Measurement measurement_from(std::string_view bytes) {
    Reader reader(bytes);
    Measurement measurement;
    fields(reader, measurement);
    return measurement;
}

}  // namespace fitup::exchange
