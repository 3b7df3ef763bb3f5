# Sourced by cli/try, tests/run and .ci/run: which Debian packages airtally needs, and how to have them.

# To build the library and the command.
build_packages="g++ cmake ninja-build libboost-dev libeigen3-dev libfmt-dev libtomlplusplus-dev nlohmann-json3-dev
  libcli11-dev"
# To build and run the tests as well: the test framework, the solvers that the answers are compared with, and what judges
# the schema of line files, the package files and the manual pages.
test_packages="catch2 libsundials-dev python3-jsonschema
  pkg-config mandoc"
# To open report pages in a browser, as some tests do. Those are skipped where it is not installed. It is driven by Python's
# own library alone.
browser_packages="chromium fonts-dejavu-core python3"
# To check the format, the lint, the comments of public headers, all completions and the Debian package. Versions that are
# pinned have their reason in DEVELOPERS.md.
lint_packages="git clang-format-14 clang-tidy-16 doxygen zsh fish dpkg-dev"

# To fuzz: clang with libFuzzer and its sanitizers, pinned as the lint is.
fuzz_packages="clang-16 libclang-rt-16-dev"

# say WORDS: a heading for the next step.
say() { printf '\n== %s\n' "$*"; }

# need_packages PACKAGE...: installs those that are missing, as root or through sudo. When none is missing it touches
# neither the network nor sudo.
need_packages() {
  missing=
  for package in "$@"; do
    [ "$(dpkg-query -W -f '${db:Status-Status}' "$package" 2>/dev/null)" = installed ] || missing="$missing $package"
  done
  if [ -z "$missing" ]; then
    echo "All $# Debian packages needed are installed."
    return
  fi
  if ! command -v apt-get >/dev/null 2>&1; then
    echo "This script installs Debian packages, and apt-get is not here. Install by your own means:$missing" >&2
    echo "Then build with: cmake -B build && cmake --build build" >&2
    exit 1
  fi
  as_root=
  if [ "$(id -u)" -ne 0 ]; then
    if ! command -v sudo >/dev/null 2>&1; then
      echo "These Debian packages are missing, and installing them takes root, or sudo, which is not here:$missing" >&2
      echo "As root, run: apt-get install$missing    and then start this script again." >&2
      exit 1
    fi
    as_root=sudo
  fi
  echo "Installing with apt-get:$missing"
  # The lists of names are split into words on purpose.
  # shellcheck disable=SC2086
  {
    $as_root apt-get update -qq </dev/null
    $as_root env DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends $missing </dev/null
  }
}

# configure FOLDER OPTION...: configures a build folder, with Ninja and ccache where present, for the files of each folder
# to be compiled as one. A folder that has been configured before keeps its generator.
configure() {
  folder=$1
  shift
  if [ ! -f "$folder/CMakeCache.txt" ] && command -v ninja >/dev/null 2>&1; then set -- "$@" -G Ninja; fi
  if command -v ccache >/dev/null 2>&1; then set -- "$@" -DCMAKE_CXX_COMPILER_LAUNCHER=ccache; fi
  cmake -S . -B "$folder" -DAIRTALLY_UNITY=ON "$@"
}

# processors: how many jobs to run at once. Each compiler may take a gigabyte, so no more than the memory has of those.
processors() {
  count=$(nproc 2>/dev/null || echo 1)
  room=$(awk '/^MemAvailable:/ { print int($2 / 1000000) }' /proc/meminfo 2>/dev/null || echo "$count")
  [ "${room:-0}" -ge 1 ] || room=1
  [ "$count" -le "$room" ] || count=$room
  echo "$count"
}
