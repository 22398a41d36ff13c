#include "stanch/base/json.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <nlohmann/json.hpp>
#include <set>
#include <vector>

#include "stanch/base/number.hpp"

namespace stanch {
namespace {

// Deeper nesting than any record needs is refused, so that a hostile text cannot exhaust the stack.
constexpr int max_depth = 64;

/// Builds the value through nlohmann's event interface, to see duplicate keys and depth while they happen.
class Builder : public nlohmann::json_sax<Json> {
 public:
  Json root;
  Problem problem;

  bool null() override { return put(nullptr); }
  bool boolean(bool v) override { return put(v); }
  bool number_integer(number_integer_t v) override { return put(v); }
  bool number_unsigned(number_unsigned_t v) override { return put(v); }
  bool number_float(number_float_t v, const string_t&) override {
    return std::isfinite(v) ? put(v) : fail("number too large");
  }
  bool string(string_t& v) override { return put(std::move(v)); }
  bool binary(binary_t&) override { return fail("binary"); }
  bool start_object(std::size_t) override { return open(Json::object()); }
  bool end_object() override { return close(); }
  bool start_array(std::size_t) override { return open(Json::array()); }
  bool end_array() override { return close(); }

  bool key(string_t& name) override {
    const auto [member, is_new] = stack_.back()->emplace(name, nullptr);
    if (!is_new) problem = {ProblemCode::json_duplicate_key, name, "", "", 0};
    member_ = &*member;
    return is_new;
  }

  bool parse_error(std::size_t position, const std::string&, const nlohmann::detail::exception&) override {
    return fail("unexpected text at byte " + std::to_string(position));
  }

 private:
  bool fail(std::string what) {
    problem = {ProblemCode::json_syntax, "", std::move(what), "", 0};
    return false;
  }

  Json* place(Json value) {
    if (stack_.empty()) {
      root = std::move(value);
      return &root;
    }
    Json& parent = *stack_.back();
    if (parent.is_array()) {
      parent.push_back(std::move(value));
      return &parent.back();
    }
    return &(*member_ = std::move(value));
  }

  bool put(Json value) {
    place(std::move(value));
    return true;
  }

  bool open(Json value) {
    if (stack_.size() >= max_depth) return fail("nested too deeply");
    stack_.push_back(place(std::move(value)));
    return true;
  }

  bool close() {
    stack_.pop_back();
    return true;
  }

  std::vector<Json*> stack_;
  Json* member_ = nullptr;  ///< of the innermost object, the one whose value comes next
};

std::vector<std::uint16_t> utf16_units(std::string_view utf8) {
  std::vector<std::uint16_t> out;
  for (std::size_t i = 0; i < utf8.size();) {
    const auto lead = static_cast<unsigned char>(utf8[i]);
    const std::size_t n = lead < 0x80 ? 1 : lead < 0xE0 ? 2 : lead < 0xF0 ? 3 : 4;
    std::uint32_t code = n == 1 ? lead : lead & (0xFFu >> (n + 1));
    for (std::size_t k = 1; k < n && i + k < utf8.size(); ++k)
      code = (code << 6) | (static_cast<unsigned char>(utf8[i + k]) & 0x3Fu);
    i += n;
    if (code < 0x10000) {
      out.push_back(static_cast<std::uint16_t>(code));
    } else {
      out.push_back(static_cast<std::uint16_t>(0xD800 + ((code - 0x10000) >> 10)));
      out.push_back(static_cast<std::uint16_t>(0xDC00 + ((code - 0x10000) & 0x3FF)));
    }
  }
  return out;
}

bool is_ascii(std::string_view text) {
  return std::all_of(text.begin(), text.end(), [](char c) { return static_cast<unsigned char>(c) < 0x80; });
}

bool utf16_less(std::string_view a, std::string_view b) {
  if (is_ascii(a) && is_ascii(b)) return a < b;
  return utf16_units(a) < utf16_units(b);
}

void write_escaped(std::string& out, char c) {
  constexpr std::string_view hex = "0123456789abcdef";
  switch (c) {
    case '"':
      out += "\\\"";
      break;
    case '\\':
      out += "\\\\";
      break;
    case '\b':
      out += "\\b";
      break;
    case '\f':
      out += "\\f";
      break;
    case '\n':
      out += "\\n";
      break;
    case '\r':
      out += "\\r";
      break;
    case '\t':
      out += "\\t";
      break;
    default:
      out += "\\u00";
      out += hex[static_cast<unsigned char>(c) >> 4];
      out += hex[static_cast<unsigned char>(c) & 15];
  }
}

void write_string(std::string& out, std::string_view text) {
  const auto is_escaped = [](char c) { return c == '"' || c == '\\' || static_cast<unsigned char>(c) < 0x20; };
  out += '"';
  while (!text.empty()) {
    const auto plain = static_cast<std::size_t>(std::find_if(text.begin(), text.end(), is_escaped) - text.begin());
    out.append(text, 0, plain);
    text.remove_prefix(plain);
    if (text.empty()) break;
    write_escaped(out, text.front());
    text.remove_prefix(1);
  }
  out += '"';
}

void write_value(std::string& out, const Json& value);

void write_object(std::string& out, const Json& value) {
  std::vector<std::pair<std::string_view, const Json*>> members;
  members.reserve(value.size());
  for (auto it = value.begin(); it != value.end(); ++it) members.emplace_back(it.key(), &it.value());
  std::sort(members.begin(), members.end(), [](const auto& a, const auto& b) { return utf16_less(a.first, b.first); });
  out += '{';
  for (std::size_t i = 0; i < members.size(); ++i) {
    if (i != 0) out += ',';
    write_string(out, members[i].first);
    out += ':';
    write_value(out, *members[i].second);
  }
  out += '}';
}

void write_value(std::string& out, const Json& value) {
  switch (value.type()) {
    case Json::value_t::null:
      out += "null";
      break;
    case Json::value_t::boolean:
      out += value.get<bool>() ? "true" : "false";
      break;
    case Json::value_t::number_integer:
    case Json::value_t::number_unsigned:
    case Json::value_t::number_float:
      out += number_text(value.get<double>());
      break;
    case Json::value_t::string:
      write_string(out, value.get_ref<const std::string&>());
      break;
    case Json::value_t::object:
      write_object(out, value);
      break;
    case Json::value_t::array: {
      out += '[';
      for (std::size_t i = 0; i < value.size(); ++i) {
        if (i != 0) out += ',';
        write_value(out, value[i]);
      }
      out += ']';
      break;
    }
    default:
      STANCH_ASSERT(false, "only JSON values are written");
  }
}

}  // namespace

Result<Json> parse_json(std::string_view text) {
  Builder builder;
  if (!Json::sax_parse(text.begin(), text.end(), &builder)) return refuse(builder.problem);
  return std::move(builder.root);
}

std::string canonical_text(const Json& value) {
  std::string out;
  write_value(out, value);
  return out;
}

}  // namespace stanch
