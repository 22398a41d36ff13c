#include "stanch/care/state.hpp"

#include <utility>

namespace stanch::care {

State::State(record::Case entries) : entries_(std::move(entries)) {
  for (const record::EntryPtr& entry : entries_.in_effect()) facts_.put(*entry);
}

record::Change State::take(record::Entry entry) {
  record::Change change = entries_.add(std::move(entry));
  for (const record::EntryPtr& gone : change.out) facts_.take_out(*gone);
  for (const record::EntryPtr& come : change.in) facts_.put(*come);
  return change;
}

record::Case as_known_at(const record::Case& entries, Moment known_at) {
  record::Case out;
  for (const record::EntryPtr& entry : entries.all())
    if (entry->recorded() <= known_at) out.add(entry);
  for (const record::Conflict& conflict : entries.conflicts())
    for (const record::EntryPtr& other : conflict.others)
      if (other->recorded() <= known_at) out.add(other);
  return out;
}

}  // namespace stanch::care
