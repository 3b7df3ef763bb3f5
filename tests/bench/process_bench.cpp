// What a person waits for at the prompt: whole processes, from the command to its end.
#include <benchmark/benchmark.h>
#include <fcntl.h>
#include <spawn.h>
#include <sys/wait.h>

#include <algorithm>
#include <string>
#include <vector>

#include "groups.hpp"

extern char** environ;

namespace airtally::bench {
namespace {

/// Runs the command with its output thrown away; its exit code, -1 when it didn't start.
int run(const std::vector<std::string>& words) {
  std::vector<char*> arguments;
  for (const std::string& word : words) arguments.push_back(const_cast<char*>(word.c_str()));
  arguments.push_back(nullptr);
  posix_spawn_file_actions_t actions;
  posix_spawn_file_actions_init(&actions);
  posix_spawn_file_actions_addchdir_np(&actions, AIRTALLY_LINES);
  posix_spawn_file_actions_addopen(&actions, 1, "/dev/null", O_WRONLY, 0);
  pid_t pid = 0;
  const int failed = posix_spawn(&pid, words[0].c_str(), &actions, nullptr, arguments.data(), environ);
  posix_spawn_file_actions_destroy(&actions);
  if (failed != 0) return -1;
  int status = 0;
  if (waitpid(pid, &status, 0) != pid || !WIFEXITED(status)) return -1;
  return WEXITSTATUS(status);
}

void add(const std::string& words, const std::string& program = AIRTALLY_COMMAND) {
  std::vector<std::string> command{program};
  for (std::size_t at = 0; at < words.size();) {
    const std::size_t end = std::min(words.find(' ', at), words.size());
    command.push_back(words.substr(at, end - at));
    at = end + 1;
  }
  std::string name = words;
  std::replace(name.begin(), name.end(), '/', ' ');
  benchmark::RegisterBenchmark(("process/" + name + "/own").c_str(),
                               [command](benchmark::State& state) {
                                 for (auto _ : state) {
                                   // 1 is an answer too: the part does not hold, the sensor does not tell.
                                   const int ended = run(command);
                                   if (ended != 0 && ended != 1) return state.SkipWithError("ended badly");
                                 }
                               })
      ->UseRealTime()
      ->Unit(benchmark::kMillisecond);
}

}  // namespace

void register_processes() {
  add("a program that does nothing", "/bin/true");
  for (const char* words : {"--version",
                            "check jewel-setter.toml",
                            "steady jewel-setter.toml",
                            "rise jewel-setter.toml",
                            "rank jewel-setter.toml",
                            "rank jewel-setter.toml --bands",
                            "strip jewel-setter.toml",
                            "hold jewel-setter.toml",
                            "hunt readings/jewel-setter.toml",
                            "hunt readings/jewel-setter.toml --quick",
                            "decay readings/jewel-setter-twist-decay.csv --volume 5mL",
                            "cycle two-spindle-sorter.toml",
                            "sense jewel-setter.toml",
                            "compare jewel-setter.toml jewel-setter-twist.toml",
                            "joint jewel-setter.toml",
                            "report jewel-setter.toml",
                            "pumps jewel-setter.toml --from catalogue",
                            "steady seed-tray.toml",
                            "rise seed-tray.toml",
                            "rank seed-tray.toml"})
    add(words);
}

}  // namespace airtally::bench
