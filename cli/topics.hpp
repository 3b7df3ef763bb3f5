#pragma once
#include <string>
#include <vector>

/// What `airtally help` explains beyond its commands.
namespace airtally::cli {

struct Topic {
  std::string name;  ///< "gauge-or-absolute"
  std::string text;  ///< one line for the list
  std::string body;  ///< paragraphs, parted by empty lines; lines that begin with a space stand as they are
};

std::vector<Topic> topics();

/// The body as it is printed, 80 columns wide.
std::string topic_text(const Topic& topic);

}  // namespace airtally::cli
