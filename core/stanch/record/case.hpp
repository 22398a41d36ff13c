// core/stanch/record/case.hpp
//
// A case: the set of its entries, whatever the order, number of times and devices they came from. Keeps everything;
// decides which entries are in effect. Two cases holding the same entries answer the same.
#pragma once

#include <map>
#include <memory>
#include <optional>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include "stanch/base/id.hpp"
#include "stanch/record/entry.hpp"

namespace stanch::record {

using EntryPtr = std::shared_ptr<const Entry>;

/// What adding an entry changed: the entries that came into effect and those that went out of it.
struct Change {
  std::vector<EntryPtr> in;
  std::vector<EntryPtr> out;
  bool is_new = false;  ///< false: this content was already here
};

/// Same id, different content. All versions are kept; `counts` is the one in effect, the same on every device: the
/// earliest written, then the smallest canonical bytes. (Not the first to arrive: that would differ between devices.)
struct Conflict {
  Id id;
  EntryPtr counts;
  std::vector<EntryPtr> others;
};

class Case {
 public:
  /// Adds one entry; adding the same content again is a no-op. Logarithmic in the number of entries.
  Change add(Entry added) { return add(std::make_shared<const Entry>(std::move(added))); }
  /// The same, sharing an entry that another case may hold too.
  Change add(EntryPtr entry);

  /// Adds everything the other case holds: set union.
  void merge(const Case& other);

  /// Entries in effect, in folding order.
  [[nodiscard]] std::vector<EntryPtr> in_effect() const;

  /// Every id once (the version that counts), struck or not, in folding order.
  [[nodiscard]] std::vector<EntryPtr> all() const;

  /// Every id once (the version that counts), struck or not, by id: cheaper than all() where the order is no matter.
  template <class Visit>
  void each(Visit visit) const {
    for (const auto& [id, versions] : versions_) visit(versions.front());
  }

  [[nodiscard]] bool is_struck(const Id& id) const;
  [[nodiscard]] EntryPtr find(const Id& id) const;
  [[nodiscard]] std::vector<Conflict> conflicts() const;
  /// Strikes that form a ring strike nothing; these are their ids.
  [[nodiscard]] std::vector<Id> strikes_in_a_ring() const;
  [[nodiscard]] std::size_t size() const { return versions_.size(); }

 private:
  [[nodiscard]] EntryPtr counting(const Id& id) const;
  [[nodiscard]] bool in_ring(const Id& id) const;
  void collect_affected(const Id& id, std::set<Id>& out) const;
  Change add_known(EntryPtr entry);
  void index_strike(const EntryPtr& entry);
  void unindex_strike(const EntryPtr& entry);

  std::map<Id, std::vector<EntryPtr>> versions_;  ///< by id; the version that counts first
  std::map<Id, std::set<Id>> struck_by_;          ///< target -> ids of entries that strike it
};

}  // namespace stanch::record
