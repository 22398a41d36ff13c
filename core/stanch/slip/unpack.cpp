#include <array>
#include <cstdint>
#include <nlohmann/json.hpp>
#include <optional>
#include <string_view>
#include <utility>

#include "stanch/slip/base64url.hpp"
#include "stanch/slip/contents.hpp"
#include "stanch/slip/hash_text.hpp"
#include "stanch/slip/id_bits.hpp"
#include "stanch/slip/strings.hpp"
#include "stanch/slip/time_text.hpp"
#include "stanch/slip/words.hpp"

namespace stanch::slip {
namespace {

constexpr std::int64_t greatest = std::int64_t{1} << 53U;  // what every reader of JSON holds exactly
constexpr std::int64_t last_moment = 253'402'300'799'999;  // the end of the year 9999
constexpr std::int64_t most_counted = 1'000'000'000;       // what a size holds on the phone, too
constexpr std::size_t longest_name = 200;
constexpr int last_step = 7;

/// Reads members one by one; the first that is wrong is told, and everything after it is read in vain but safely.
class Unpacker {
 public:
  explicit Unpacker(const Json& payload) : payload_(payload) {}

  Result<Contents> run() {
    if (!payload_.is_object()) {
      fail("", "a JSON object");
    } else {
      about();
      if (!problem_) entries();
    }
    if (problem_) return refuse(*problem_);
    return std::move(out_);
  }

 private:
  void fail(std::string_view member, std::string_view allowed) {
    if (!problem_)
      problem_ = Problem{ProblemCode::value_not_allowed, "slip." + std::string(member), "something else",
                         std::string(allowed), 0};
  }

  [[nodiscard]] const Json& member(const char* name) const {
    static const Json none;
    const auto it = payload_.find(name);
    return it == payload_.end() ? none : *it;
  }

  std::int64_t whole(const Json& value, const char* name, std::int64_t low, std::int64_t high) {
    const bool is_safe = value.is_number_unsigned() ? value.get<std::uint64_t>() <= static_cast<std::uint64_t>(greatest)
                                                    : value.is_number_integer();
    const std::int64_t number = is_safe ? value.get<std::int64_t>() : 0;
    if (is_safe && number >= low && number <= high) return number;
    fail(name, "whole numbers from " + std::to_string(low) + " to " + std::to_string(high));
    return low > 0 ? low : 0;
  }
  std::int64_t whole(const char* name, std::int64_t low, std::int64_t high) {
    return whole(member(name), name, low, high);
  }

  std::string text(const Json& value, const char* name) {
    if (value.is_string() && value.get_ref<const std::string&>().size() <= longest_name * 4) return value;
    fail(name, "a text of at most 200 characters");
    return {};
  }

  std::string hash(const char* name) {
    auto digits = long_hash(text(member(name), name));
    if (!digits) fail(name, "16 bytes in base64url");
    return digits.value_or("");
  }

  void about() {
    whole("v", 1, 1);
    About& about = out_.about;
    const auto id = from_base64url(text(member("c"), "c"));
    std::array<std::uint8_t, 16> bytes{};
    for (std::size_t i = 0; id && id->size() == bytes.size() && i < bytes.size(); ++i)
      bytes[i] = static_cast<std::uint8_t>((*id)[i]);
    const auto read = parse_id(to_text(Id(bytes)));
    if (!read) fail("c", "16 bytes of a version 7 UUID in base64url");
    about.case_id = read.value_or(Id{});
    about.made = Moment::at_ms(whole("m", 0, last_moment));
    if (payload_.contains("u")) about.until = about.made + Duration::milliseconds(whole("u", 0, last_moment));
    about.sender = text(member("p"), "p");
    about.author = text(member("y"), "y");
    about.rules = hash("r");
    about.head = hash("h");
    about.total = static_cast<std::size_t>(whole("e", 0, most_counted));
    if (payload_.contains("l")) about.practice = whole("l", 1, 1) == 1;
    if (payload_.contains("q")) about.step = static_cast<int>(whole("q", 0, last_step));
    left_out();
  }

  void left_out() {
    if (!payload_.contains("o")) return;
    const Json& counts = member("o");
    if (!counts.is_object()) return fail("o", "an object of counts by kind");
    for (auto it = counts.begin(); it != counts.end(); ++it) {
      if (it.key().size() > longest_name * 4) return fail("o", "kinds of at most 200 characters");
      out_.about.left_out[it.key()] = static_cast<std::size_t>(whole(it.value(), "o", 1, most_counted));
    }
  }

  /// The value of entry `i` in a column: a list of as many values as there are entries, or one value for all.
  const Json& cell(const char* name, std::size_t i) {
    const Json& column = member(name);
    if (!column.is_array()) return column;
    if (column.size() == n_) return column[i];
    fail(name, "one value an entry, or one for all");
    return column;
  }

  /// A time from ticks after `base` (before it, when `sign` is -1), or spelt out.
  std::pair<Moment, std::string> time(const Json& value, const char* name, std::int64_t base, int sign) {
    if (value.is_string()) {
      const auto moment = parse_moment(value.get_ref<const std::string&>());
      if (!moment) fail(name, "a time like 2031-05-06T07:08:09Z");
      return {moment.value_or(Moment{}), value};
    }
    const std::int64_t ms = base + sign * tick_ * whole(value, name, -greatest, greatest);
    if (ms < 0 || ms > last_moment) {
      fail(name, "times of the years 1970 to 9999");
      return {};
    }
    const Moment moment = Moment::at_ms(ms);
    return {moment, time_text(moment, always_ms_)};
  }

  /// The same for small numbers, which may be one base64url digit each.
  std::size_t digit(const char* name, std::size_t i) {
    const Json& column = member(name);
    if (!column.is_string()) return static_cast<std::size_t>(whole(cell(name, i), name, 0, most_counted));
    const std::string& digits = column.get_ref<const std::string&>();
    const std::size_t value = digits.size() == n_ ? base64url_digits.find(digits[i]) : std::string::npos;
    if (value != std::string::npos) return value;
    fail(name, "one base64url digit an entry");
    return 0;
  }

  std::string name_numbered(const char* column, std::size_t i) {
    const Json& names = member("n");
    const std::size_t number = digit(column, i);
    if (names.is_array() && number < names.size()) return text(names[number], "n");
    fail(column, "numbers of names");
    return {};
  }

  void entries() {
    always_ms_ = whole("z", 0, 1) == 1;
    tick_ = whole("t", 1, 1000);
    if (tick_ != 1 && tick_ != 1000) fail("t", "1 or 1000");
    if (!member("w").is_array() || member("w").size() > most_entries) return fail("w", "a list of at most 20000 times");
    n_ = member("w").size();
    std::vector<std::int64_t> id_ms;
    std::int64_t last = 0;
    for (std::size_t i = 0; i < n_ && !problem_; ++i) {
      const auto [written, written_text] = time(member("w")[i], "w", last, 1);
      const auto [at, at_text] = time(cell("a", i), "a", written.ms(), -1);
      last = written.ms();
      id_ms.push_back(last + whole(cell("d", i), "d", -last_moment, last_moment));
      out_.entries.push_back(Json{{"case", to_text(out_.about.case_id)},
                                  {"at", at_text},
                                  {"written", written_text},
                                  {"by", name_numbered("b", i)},
                                  {"from", name_numbered("f", i)}});
    }
    if (problem_) return;
    const auto chance =
        member("i").is_string() ? from_base64url(member("i").get_ref<const std::string&>()) : std::nullopt;
    auto ids = chance ? ids_from(id_ms, *chance) : std::nullopt;
    if (!ids) return fail("i", "74 bits an entry in base64url");
    for (std::size_t i = 0; i < n_; ++i) out_.entries[i]["id"] = to_text((*ids)[i]);
    fields(Strings(std::move(*ids)));
  }

  void fields(const Strings& strings) {
    const Json& shapes = member("k");
    const Json& values = member("x");
    if (!shapes.is_array()) return fail("k", "a list of kinds with their fields");
    if (!values.is_array() || values.size() != shapes.size()) return fail("x", "one list a shape");
    std::vector<std::size_t> used(shapes.size());
    for (std::size_t i = 0; i < n_ && !problem_; ++i) {
      const std::size_t number = digit("s", i);
      if (problem_ || number >= shapes.size()) return fail("s", "numbers of shapes");
      add_fields(out_.entries[i], shapes[number], values[number], used[number]++, strings);
    }
    for (std::size_t s = 0; s < shapes.size() && !problem_; ++s)
      for (const Json& list : values[s])
        if (!list.is_array() || list.size() != used[s]) return fail("x", "one value for each entry of the shape");
  }

  static std::optional<std::string> name_in(const Json& word, const Strings& strings) {
    if (word.is_string()) return strings.long_text(word.get_ref<const std::string&>());
    if (!word.is_number_unsigned() || word.get<std::uint64_t>() >= n_words) return std::nullopt;
    return std::string(word_numbered(static_cast<std::size_t>(word.get<std::uint64_t>())));
  }

  void add_fields(Json& entry, const Json& shape, const Json& values, std::size_t row, const Strings& strings) {
    if (!shape.is_array() || shape.empty()) return fail("k", "a kind and its fields");
    if (!values.is_array() || values.size() + 1 != shape.size()) return fail("x", "one list a field");
    for (std::size_t f = 0; f < shape.size(); ++f) {
      const auto name = name_in(shape[f], strings);
      if (!name) return fail("k", "texts of this format");
      if (f == 0) {
        entry["kind"] = *name;
        continue;
      }
      const Json& list = values[f - 1];
      if (!list.is_array() || row >= list.size()) return fail("x", "one value for each entry of the shape");
      auto value = strings.long_value(list[row]);
      if (!value) return fail("x", "texts of this format");
      entry[*name] = std::move(*value);
    }
  }

  const Json& payload_;
  Contents out_;
  std::optional<Problem> problem_;
  std::size_t n_ = 0;
  bool always_ms_ = false;
  std::int64_t tick_ = 1;
};

}  // namespace

Result<Contents> unpack(const Json& payload) { return Unpacker(payload).run(); }

}  // namespace stanch::slip
