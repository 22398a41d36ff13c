#include "stanch/slip/draft.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>
#include <set>
#include <utility>

#include "stanch/slip/choose.hpp"

namespace stanch::slip {
namespace {

using record::EntryPtr;

/// Slips of one case with more or fewer of its entries, to find the fullest that has room.
class Drafter {
 public:
  Drafter(const record::Case& entries, const Wish& wish)
      : wish_(wish), all_(entries.all()), leaving_(leaving_order(entries)) {
    about_.case_id = all_.front()->case_id;
    about_.made = wish.now;
    about_.until = wish.until;
    about_.sender = wish.sender;
    about_.author = wish.author;
    about_.practice = wish.practice;
    about_.rules = wish.rules.substr(0, 32);
    about_.head = head_of(entries);
    about_.total = all_.size();
  }

  [[nodiscard]] Result<Draft> run() const {
    const std::size_t room = wish_.symbols * symbol_bytes(wish_.correction);
    // Each id alone takes 74 bits, so that no more entries than this have room.
    const std::size_t most = std::min(room * 8 / 74, most_entries);
    std::size_t too_few = all_.size() > most ? all_.size() - most : 0;  // left out, and still too long, or 0
    if (too_few > leaving_.size()) return too_long(without(leaving_.size()), room);
    if (Draft whole = without(too_few); size_of(whole) <= room) return whole;
    std::size_t enough = leaving_.size();
    Draft found = without(enough);
    if (size_of(found) > room) return too_long(found, room);
    while (enough - too_few > 1) {
      const std::size_t middle = too_few + (enough - too_few) / 2;
      Draft tried = without(middle);
      if (size_of(tried) <= room) {
        enough = middle;
        found = std::move(tried);
      } else {
        too_few = middle;
      }
    }
    return found;
  }

 private:
  static std::size_t size_of(const Draft& draft) { return draft.slip.bytes().size() + signature_bytes; }

  static tl::unexpected<Problems> too_long(const Draft& draft, std::size_t room) {
    return refuse(Problem{ProblemCode::value_out_of_range, "slip.size", std::to_string(size_of(draft)) + " bytes",
                          "at most " + std::to_string(room) + " in the symbols allowed", 0});
  }

  /// The slip without the first `n` entries of the order of leaving out.
  [[nodiscard]] Draft without(std::size_t n) const {
    About about = about_;
    std::set<Id> left_out;
    for (std::size_t i = 0; i < n; ++i) {
      left_out.insert(leaving_[i].entry->id);
      ++about.left_out[leaving_[i].entry->kind_word];
      about.step = static_cast<int>(leaving_[i].step);
    }
    std::vector<EntryPtr> kept;
    for (const EntryPtr& e : all_)
      if (!left_out.contains(e->id)) kept.push_back(e);
    SignedSlip slip = unsigned_slip(wish_.algorithm, wish_.key, canonical_text(pack(about, std::move(kept))));
    return {std::move(about), std::move(slip)};
  }

  const Wish& wish_;
  About about_;
  std::vector<EntryPtr> all_;
  std::vector<Leaving> leaving_;
};

}  // namespace

Result<Draft> draft_of(const record::Case& entries, const Wish& wish) {
  if (entries.size() == 0)
    return refuse(Problem{ProblemCode::field_missing, "entries", "", "the entries of a case", 0});
  return Drafter(entries, wish).run();
}

}  // namespace stanch::slip
