#include <algorithm>
#include <array>
#include <cstdint>
#include <nlohmann/json.hpp>
#include <string_view>
#include <tuple>
#include <utility>

#include "stanch/base/sha256.hpp"
#include "stanch/slip/base64url.hpp"
#include "stanch/slip/contents.hpp"
#include "stanch/slip/hash_text.hpp"
#include "stanch/slip/id_bits.hpp"
#include "stanch/slip/strings.hpp"
#include "stanch/slip/time_text.hpp"
#include "stanch/slip/words.hpp"

namespace stanch::slip {
namespace {

using record::EntryPtr;

const std::string& text_of(const EntryPtr& entry, const char* field) {
  return (*entry->whole)[field].get_ref<const std::string&>();
}

/// A list of one value again and again is that value.
Json column(std::vector<Json> values) {
  if (!values.empty() && std::all_of(values.begin(), values.end(), [&](const Json& v) { return v == values.front(); }))
    return values.front();
  return values;
}

/// Small numbers as one base64url digit each, where the commas would take more room than the numbers.
Json digits(const std::vector<std::size_t>& numbers) {
  if (std::all_of(numbers.begin(), numbers.end(), [&](std::size_t n) { return n == numbers.front(); }))
    return numbers.empty() ? Json(std::string()) : Json(numbers.front());
  if (*std::max_element(numbers.begin(), numbers.end()) >= base64url_digits.size()) return numbers;
  std::string out;
  for (const std::size_t n : numbers) out += base64url_digits[n];
  return out;
}

/// The number of each of some things, in the order in which they first came.
template <class Thing>
class Numbering {
 public:
  std::size_t operator()(const Thing& thing) {
    const auto number = static_cast<std::size_t>(std::find(all_.begin(), all_.end(), thing) - all_.begin());
    if (number == all_.size()) all_.push_back(thing);
    return number;
  }
  [[nodiscard]] const std::vector<Thing>& all() const { return all_; }

 private:
  std::vector<Thing> all_;
};

/// Writes the columns that every entry has a value in.
class Packer {
 public:
  explicit Packer(std::vector<EntryPtr> entries) : entries_(std::move(entries)), strings_(ids()) {
    std::size_t with_ms = 0;
    for (const EntryPtr& e : entries_) with_ms += text_of(e, "written").find('.') != std::string::npos ? 1U : 0U;
    always_ms_ = with_ms * 2 > entries_.size();
    const bool whole = std::all_of(entries_.begin(), entries_.end(), [](const EntryPtr& e) {
      return e->written.ms() % 1000 == 0 && e->at.ms() % 1000 == 0;
    });
    tick_ = whole ? 1000 : 1;
  }

  void write(Json& out) {
    out["z"] = always_ms_ ? 1 : 0;
    out["t"] = tick_;
    times(out);
    const std::vector<Id> all_ids = ids();
    out["i"] = to_base64url(chance_of(all_ids));
    std::vector<std::size_t> by;
    std::vector<std::size_t> from;
    Numbering<std::string> names;
    for (const EntryPtr& e : entries_) {
      by.push_back(names(e->by));
      from.push_back(names(e->from));
    }
    out["b"] = digits(by);
    out["f"] = digits(from);
    out["n"] = names.all();
    fields(out);
  }

 private:
  [[nodiscard]] std::vector<Id> ids() const {
    std::vector<Id> out;
    out.reserve(entries_.size());
    for (const EntryPtr& e : entries_) out.push_back(e->id);
    return out;
  }

  /// Ticks when the text is spelt as this slip spells times, else the text.
  [[nodiscard]] Json time(const std::string& text, Moment moment, std::int64_t ms) const {
    return text == time_text(moment, always_ms_) ? Json(ms / tick_) : Json(text);
  }

  void times(Json& out) const {
    std::vector<Json> written;
    std::vector<Json> before;
    std::vector<Json> id_after;
    std::int64_t last = 0;
    for (const EntryPtr& e : entries_) {
      written.push_back(time(text_of(e, "written"), e->written, e->written.ms() - last));
      before.push_back(time(text_of(e, "at"), e->at, e->written.ms() - e->at.ms()));
      id_after.emplace_back(ms_of(e->id) - e->written.ms());
      last = e->written.ms();
    }
    out["w"] = std::move(written);
    out["a"] = column(std::move(before));
    out["d"] = column(std::move(id_after));
  }

  /// True for what the columns above say: left out of the fields, unless it is spelt otherwise.
  [[nodiscard]] static bool is_said(const EntryPtr& e, const std::string& field) {
    if (field == "id") return text_of(e, "id") == to_text(e->id);
    if (field == "case") return text_of(e, "case") == to_text(e->case_id);
    constexpr std::array<std::string_view, 5> said{"at", "written", "by", "from", "kind"};
    return std::find(said.begin(), said.end(), field) != said.end();
  }

  /// A word of the table as its number, another one as any text.
  [[nodiscard]] Json name(const std::string& word) const {
    if (const auto number = number_of_word(word)) return *number;
    return strings_.short_text(word);
  }

  /// A shape is a kind with the names of the fields that are there; under each shape stand its fields' values, field by
  /// field, because like values beside each other compress best.
  void fields(Json& out) const {
    Numbering<Json> shapes;
    std::vector<std::size_t> shape_of;
    Json values = Json::array();
    for (const EntryPtr& e : entries_) {
      Json shape = Json::array({name(e->kind_word)});
      std::vector<Json> row;
      for (auto it = e->whole->begin(); it != e->whole->end(); ++it) {
        if (is_said(e, it.key())) continue;
        shape.push_back(name(it.key()));
        row.push_back(strings_.short_value(it.value()));
      }
      const std::size_t number = shapes(shape);
      shape_of.push_back(number);
      if (number == values.size()) values.push_back(std::vector<Json>(row.size(), Json::array()));
      for (std::size_t i = 0; i < row.size(); ++i) values[number][i].push_back(std::move(row[i]));
    }
    out["s"] = digits(shape_of);
    out["k"] = shapes.all();
    out["x"] = std::move(values);
  }

  std::vector<EntryPtr> entries_;
  Strings strings_;
  bool always_ms_ = false;
  std::int64_t tick_ = 1;
};

}  // namespace

std::string head_of(const record::Case& entries) {
  std::string all;
  entries.each([&](const EntryPtr& entry) { all += canonical_bytes(*entry) + '\n'; });
  return sha256_hex(all).substr(0, hash_digits);
}

Json pack(const About& about, std::vector<EntryPtr> entries) {
  std::sort(entries.begin(), entries.end(), [](const EntryPtr& a, const EntryPtr& b) {
    return std::tie(a->written, a->id) < std::tie(b->written, b->id);
  });
  const auto case_bytes = about.case_id.bytes();
  Json out{{"v", 1},
           {"c", to_base64url(std::string(case_bytes.begin(), case_bytes.end()))},
           {"m", about.made.ms()},
           {"p", about.sender},
           {"y", about.author},
           {"r", short_hash(about.rules)},
           {"h", short_hash(about.head)},
           {"e", about.total}};
  if (about.until) out["u"] = (*about.until - about.made).ms();
  if (about.practice) out["l"] = 1;
  if (about.step != 0) out["q"] = about.step;
  if (!about.left_out.empty()) out["o"] = about.left_out;
  Packer(std::move(entries)).write(out);
  return out;
}

}  // namespace stanch::slip
