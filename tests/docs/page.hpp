#pragma once
#include <fstream>
#include <regex>
#include <sstream>
#include <string>
#include <vector>

/// What the tests of a page in docs share: its text, and whether it names what a reader knows.
namespace airtally::test {

inline std::string text_of(const std::string& file) {
  std::ifstream in(file);
  std::stringstream text;
  text << in.rdbuf();
  return text.str();
}

/// The keys that a reader says are allowed where `zzzzzz` is not.
inline std::vector<std::string> allowed_in(const std::string& complaint) {
  std::vector<std::string> keys;
  const std::regex list("'[^']*zzzzzz' is not a key of [^\n]*Allowed: ([^.\n]*)\\.");
  for (std::sregex_iterator it(complaint.begin(), complaint.end(), list), end; it != end; ++it) {
    std::stringstream words((*it)[1].str());
    for (std::string word; std::getline(words, word, ',');) keys.push_back(word.substr(word.find_first_not_of(' ')));
  }
  return keys;
}

/// Whether a page names a key: between backquotes, as a table, or in an example.
inline bool names(const std::string& page, const std::string& key) {
  for (const std::string& form :
       {"`" + key + "`", "`[" + key + "]`", "`[[" + key + "]]`", "." + key + "]]`", key + " = "})
    if (page.find(form) != std::string::npos) return true;
  return false;
}

/// The ranges that a text of code allows, as its complaints say them: "0 mm .. 1 mm".
inline std::vector<std::string> ranges_in(const std::string& code) {
  const std::regex range("Limits [^;]*\"([^\"]* \\.\\. [^\"]*)\"[^;]*;");
  std::vector<std::string> all;
  for (std::sregex_iterator it(code.begin(), code.end(), range), end; it != end; ++it) all.push_back((*it)[1].str());
  return all;
}

/// The blocks of a page that open with three backquotes and this word, in order.
inline std::vector<std::string> blocks_of(const std::string& page, const std::string& word) {
  std::vector<std::string> all;
  const std::string open = "```" + word + "\n";
  for (std::size_t at = page.find(open); at != std::string::npos; at = page.find(open, at)) {
    at += open.size();
    all.push_back(page.substr(at, page.find("```", at) - at));
  }
  return all;
}

}  // namespace airtally::test
