#pragma once
#include "errors.hpp"

namespace airtally::study {

/// Runs `ask` on a line drawn from tolerances. False where that gives no answer: its solver gave up, or what was drawn
/// together is outside what a law takes, or no schedule. One such line must not cost the answer that all the others
/// give.
template <class Ask>
bool attempted(const Ask& ask) {
  try {
    ask();
    return true;
  } catch (const NoConvergence&) {
    return false;
  } catch (const DomainError&) {
    return false;
  } catch (const BadInput&) {
    return false;
  }
}

}  // namespace airtally::study
