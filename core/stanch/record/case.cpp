#include "stanch/record/case.hpp"

#include <algorithm>
#include <utility>

namespace stanch::record {
namespace {

// Versions of one id sort by the written time, then by content, so that the first is the one that counts.
bool counts_before(const Entry& a, const Entry& b) {
  if (a.written != b.written) return a.written < b.written;
  return canonical_bytes(a) < canonical_bytes(b);
}

// Of two copies of the same content the one whose clock was measured is kept, so that the result does not depend on
// order.
bool better_measured(const Entry& a, const Entry& b) {
  const bool a_measured = a.skew != Duration{};
  const bool b_measured = b.skew != Duration{};
  if (a_measured != b_measured) return a_measured;
  return a.skew < b.skew;
}

}  // namespace

EntryPtr Case::counting(const Id& id) const {
  const auto it = versions_.find(id);
  return it == versions_.end() || it->second.empty() ? nullptr : it->second.front();
}

EntryPtr Case::find(const Id& id) const { return counting(id); }

// Each entry strikes at most one other, so following the strikes from an entry either ends or comes back to it.
bool Case::in_ring(const Id& id) const {
  std::set<Id> seen;
  EntryPtr at = counting(id);
  while (at && at->strikes) {
    if (*at->strikes == id) return true;
    if (!seen.insert(*at->strikes).second) return false;
    at = counting(*at->strikes);
  }
  return false;
}

bool Case::is_struck(const Id& id) const {
  const auto it = struck_by_.find(id);
  if (it == struck_by_.end()) return false;
  return std::any_of(it->second.begin(), it->second.end(),
                     [this](const Id& striker) { return !in_ring(striker) && !is_struck(striker); });
}

// An entry's effect can change when it, or anything down its chain of strikes, changes.
void Case::collect_affected(const Id& id, std::set<Id>& out) const {
  EntryPtr at = counting(id);
  Id here = id;
  while (out.insert(here).second && at && at->strikes) {
    here = *at->strikes;
    at = counting(here);
  }
}

void Case::index_strike(const EntryPtr& entry) {
  if (entry && entry->strikes) struck_by_[*entry->strikes].insert(entry->id);
}

void Case::unindex_strike(const EntryPtr& entry) {
  if (!entry || !entry->strikes) return;
  const auto it = struck_by_.find(*entry->strikes);
  it->second.erase(entry->id);
  if (it->second.empty()) struck_by_.erase(it);
}

// Nearly every entry is new, strikes nothing and is struck by nothing: then only it comes into effect. Ids begin with
// the time, so that the newest entry's place is mostly the end.
Change Case::add(EntryPtr entry) {
  const auto n_before = versions_.size();
  const auto place = versions_.try_emplace(versions_.end(), entry->id);
  if (versions_.size() == n_before || entry->strikes || struck_by_.find(entry->id) != struck_by_.end())
    return add_known(std::move(entry));
  place->second.push_back(entry);
  return {.in = {std::move(entry)}, .out = {}, .is_new = true};
}

// Any entry; its id has a place already, perhaps an empty one.
Change Case::add_known(EntryPtr entry) {
  const EntryPtr counted = counting(entry->id);
  auto& versions = versions_[entry->id];
  const auto same = std::find_if(versions.begin(), versions.end(), [&](const EntryPtr& e) {
    return e->written == entry->written && canonical_bytes(*e) == canonical_bytes(*entry);
  });
  const bool is_new = same == versions.end();
  if (!is_new && !better_measured(*entry, **same)) return {};

  std::set<Id> affected;
  collect_affected(entry->id, affected);
  if (entry->strikes) collect_affected(*entry->strikes, affected);
  std::map<Id, EntryPtr> before;
  for (const Id& id : affected) {
    const EntryPtr e = id == entry->id ? counted : counting(id);
    if (e && !is_struck(id)) before[id] = e;
  }

  unindex_strike(counted);
  if (is_new) {
    const auto place =
        std::find_if(versions.begin(), versions.end(), [&](const EntryPtr& e) { return counts_before(*entry, *e); });
    versions.insert(place, entry);
  } else {
    *same = entry;
  }
  index_strike(counting(entry->id));

  Change change;
  change.is_new = is_new;
  for (const Id& id : affected) {
    const EntryPtr now = is_struck(id) ? nullptr : counting(id);
    const auto was = before.find(id);
    const EntryPtr then = was == before.end() ? nullptr : was->second;
    if (now == then) continue;
    if (then) change.out.push_back(then);
    if (now) change.in.push_back(now);
  }
  return change;
}

void Case::merge(const Case& other) {
  for (const auto& [id, versions] : other.versions_)
    for (const EntryPtr& entry : versions) add(entry);
}

std::vector<EntryPtr> Case::all() const {
  std::vector<EntryPtr> out;
  out.reserve(versions_.size());
  for (const auto& [id, versions] : versions_) out.push_back(versions.front());
  std::sort(out.begin(), out.end(), [](const EntryPtr& a, const EntryPtr& b) { return folds_before(*a, *b); });
  return out;
}

std::vector<EntryPtr> Case::in_effect() const {
  std::vector<EntryPtr> out = all();
  std::erase_if(out, [this](const EntryPtr& e) { return is_struck(e->id); });
  return out;
}

std::vector<Conflict> Case::conflicts() const {
  std::vector<Conflict> out;
  for (const auto& [id, versions] : versions_) {
    if (versions.size() < 2) continue;
    out.push_back({id, versions.front(), {versions.begin() + 1, versions.end()}});
  }
  return out;
}

std::vector<Id> Case::strikes_in_a_ring() const {
  std::vector<Id> out;
  for (const auto& [target, strikers] : struck_by_)
    for (const Id& striker : strikers)
      if (in_ring(striker)) out.push_back(striker);
  std::sort(out.begin(), out.end());
  return out;
}

}  // namespace stanch::record
