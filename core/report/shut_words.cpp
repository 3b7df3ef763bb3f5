#include "report/shut_words.hpp"

#include "report/width.hpp"
#include "report/words.hpp"

namespace airtally::report {

std::string stands_shut(const line::Element& valve) {
  const bool closed = valve.valve && valve.valve->state == line::ValveState::closed;
  return The(valve) + (closed ? " is closed" : " lets air in (vent)");
}

std::string open_it(const line::Element& valve) {
  return "Open it, in the file or here, and ask again: --set \"" + clean(valve.name) + ".state=open\".";
}

}  // namespace airtally::report
