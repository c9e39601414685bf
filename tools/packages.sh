# packages.sh: installs the Debian packages a command needs, and runs its steps quietly. For `source`, from
# the other files here.
# shellcheck shell=bash disable=SC2034

to_build=(g++ cmake make ninja-build pkg-config portaudio19-dev libkissfft-dev libeigen3-dev libcli11-dev libsndfile1-dev
    nlohmann-json3-dev libsqlite3-dev libsqlitecpp-dev libtomlplusplus-dev libfmt-dev libncurses-dev)
to_check=("${to_build[@]}" doctest-dev tidy tmux python3-jsonschema sqlite3 libaubio-dev fluidsynth
    timgm6mb-soundfont libsamplerate0-dev clang-14 clang-format-14 libclang-rt-14-dev lld-14
    pulseaudio pulseaudio-utils libasound2-plugins espeak-ng zsh)
to_benchmark=("${to_check[@]}" fluid-soundfont-gm praat)

# How cmake is asked for what the sanitizers and the fuzzer run: one build for both, by a second compiler, which warns
# of other things than the first.
to_sanitize=(-DCMAKE_BUILD_TYPE=Release -DCMAKE_CXX_FLAGS_RELEASE='-O1 -g1' -DCMAKE_CXX_COMPILER=clang++-14
    -DCMAKE_EXE_LINKER_FLAGS=-fuse-ld=lld '-DMIDSPAN_SANITIZE=address,undefined' -DMIDSPAN_FUZZ=ON -DMIDSPAN_TESTS=ON
    -DMIDSPAN_WORDS=-O0 -DCMAKE_COMPILE_WARNING_AS_ERROR=ON)

say() { printf '%s: %s\n' "${0##*/}" "$*" >&2; }

fail() {
    say "$*"
    exit 1
}

# quietly LOG COMMAND...: runs a command; its output is shown only when it fails.
quietly() {
    local log=$1
    shift
    if ! "$@" >"$log" 2>&1; then
        tail -n 40 "$log" >&2
        fail "'$*' failed; all it said is in $log"
    fi
}

# install_packages NAME...: installs those that are missing; nothing is asked of the network otherwise.
install_packages() {
    if ! command -v dpkg-query apt-get >/dev/null; then
        fail "this command installs Debian packages (Debian 12); elsewhere install what stands in" \
            "tools/packages.sh by hand and build with cmake"
    fi
    local missing=() package
    for package in "$@"; do
        # A package never heard of makes dpkg-query fail, one that was removed makes it say so.
        [[ $(dpkg-query -W -f='${db:Status-Status}' "$package" 2>/dev/null) == installed ]] ||
            missing+=("$package")
    done
    ((${#missing[@]})) || return 0

    local apt=(env DEBIAN_FRONTEND=noninteractive apt-get -q -y -o Acquire::Retries=3)
    if [[ $(id -u) != 0 ]]; then
        command -v sudo >/dev/null ||
            fail "${missing[*]} must be installed first: run this as root, or install sudo"
        sudo -v || fail "${missing[*]} must be installed first, and sudo refused"
        apt=(sudo "${apt[@]}")
    fi
    say "installing ${missing[*]}"
    local log
    log=$(mktemp)
    quietly "$log" "${apt[@]}" update
    quietly "$log" "${apt[@]}" install --no-install-recommends "${missing[@]}"
    rm -f "$log"
}

# configure FOLDER OPTION...: prepares a build folder. A new one takes the shortest way: ninja keeps every core
# busy to the end, and files are joined, so that what they include is read once; others stay as they were made.
configure() {
    local folder=$1
    shift
    mkdir -p "$folder"
    [[ -e $folder/CMakeCache.txt ]] || set -- -G Ninja -DCMAKE_UNITY_BUILD=ON "$@"
    quietly "$folder/configure.log" cmake -S . -B "$folder" "$@"
}

# build FOLDER [OPTION...]: builds with every core.
build() {
    local folder=$1
    shift
    quietly "$folder/build.log" cmake --build "$folder" --parallel "$(nproc)" "$@"
}

# run_tests FOLDER: one more at a time than there are cores, because those that listen wait for most of their time.
run_tests() { ctest --test-dir "$1" --output-on-failure --parallel "$(($(nproc) + 1))"; }
