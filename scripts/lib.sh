# shellcheck shell=bash
# Shared by ./run and ./test: what they need, found or installed, and how the
# page is built. Sourced, never run. Everything here may be called again at no
# cost: a tool that is there is used, a result whose inputs are unchanged is
# kept.
#
# Nothing is installed outside three places: Debian packages (as root only),
# web/node_modules, and the cache folder below.
#
#   FAULTPATH_CACHE      where built tools are kept
#   FAULTPATH_RUSTUP=0   behave as if rustup could not add a target
#   CHROMIUM             the browser for the tests, when it is not on PATH

ROOT=$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)
CACHE=${FAULTPATH_CACHE:-${XDG_CACHE_HOME:-$HOME/.cache}/faultpath}
TARGET_DIR=${CARGO_TARGET_DIR:-$ROOT/target}
WASM_PACK_VERSION=0.15.1

# A dependency that moved under us would test something else than what is
# committed; a contributor adding one should not have to fight the script.
CARGO_LOCK=()
[[ -z ${CI:-} ]] || CARGO_LOCK=(--locked)

say() { printf '· %s\n' "$*"; }
die() {
	printf 'error: %s\n' "$*" >&2
	exit 1
}
have() { command -v "$1" >/dev/null 2>&1; }

# at_least HAVE WANT: dotted versions.
at_least() { [[ $(printf '%s\n%s\n' "$2" "$1" | sort -V | head -n1) == "$2" ]]; }

# hash_of PATH...: one hash for all files below, without what is built there.
hash_of() {
	(
		cd "$ROOT" || exit
		find "$@" \( -name node_modules -o -path web/dist -o -path web/src/pkg -o -path web/src/pkg-site \
			-o -path web/shots -o -path tests/out -o -name __pycache__ \) -prune \
			-o -type f -print0 | LC_ALL=C sort -z | xargs -0 sha256sum | sha256sum | cut -d' ' -f1
	)
}

# locked NAME COMMAND...: one at a time on this machine.
locked() {
	local lock=$CACHE/locks/$1
	shift
	mkdir -p "$CACHE/locks"
	if ! have flock; then
		"$@"
		return
	fi
	(
		flock -n 9 || { say "waiting for another run of these scripts"; flock 9; }
		"$@" 9>&-
	) 9>"$lock"
}

# ---------------------------------------------------------------- Debian

# apt_need WHY PACKAGE...: installed, or says what to install.
apt_need() {
	local why=$1 package missing=()
	shift
	for package; do
		[[ $(dpkg-query -W -f='${db:Status-Status}' "$package" 2>/dev/null) == installed ]] || missing+=("$package")
	done
	((${#missing[@]})) || return 0
	if ! have apt-get; then
		die "$why needs what Debian calls: ${missing[*]}. Install it with this system's package manager."
	elif [[ $(id -u) != 0 ]]; then
		die "$why needs Debian packages. Install them with:
    sudo apt-get update && sudo apt-get install -y --no-install-recommends ${missing[*]}"
	fi
	say "installing Debian packages for $why: ${missing[*]}"
	locked apt apt_install "${missing[@]}"
}

apt_install() {
	local quiet=(-qq -o DPkg::Lock::Timeout=300 -o Dpkg::Use-Pty=0)
	# Once in a run: every step is a process below this one's folder.
	if [[ ! -e ${RUN_DIR:?}/apt-updated ]]; then
		apt-get "${quiet[@]}" update
		touch "$RUN_DIR/apt-updated"
	fi
	DEBIAN_FRONTEND=noninteractive apt-get "${quiet[@]}" install -y --no-install-recommends "$@" >"$RUN_DIR/apt.log" 2>&1 || {
		cat "$RUN_DIR/apt.log" >&2
		die "apt-get could not install: $*"
	}
}

# ---------------------------------------------------------------- Rust

need_rust() {
	local wanted
	have cargo || die "Rust is not installed (no cargo on PATH). Install it from https://rustup.rs"
	wanted=$(sed -n 's/^rust-version = "\(.*\)"/\1/p' "$ROOT/Cargo.toml")
	at_least "$(rustc --version | cut -d' ' -f2)" "$wanted" ||
		die "$(rustc --version) is too old: Rust $wanted or newer is needed. With rustup: rustup update stable"
	have cc || apt_need "linking Rust programs" gcc libc6-dev
}

# need_component NAME SUBCOMMAND: rustfmt and clippy.
need_component() {
	need_rust
	cargo "$2" --version >/dev/null 2>&1 && return
	say "adding $1 to the Rust toolchain"
	have rustup && rustup component add "$1" && return
	die "cargo $2 is missing. With rustup: rustup component add $1. On Debian: apt-get install $1"
}

# Whether RUSTC can build for TARGET as it stands.
builds_for() {
	local libdir
	libdir=$("$1" --print target-libdir --target "$2" 2>/dev/null) || return 1
	compgen -G "$libdir/libcore-*.rlib" >/dev/null
}

# need_target TARGET: from here on, for_target COMMAND... builds for it. First
# with what is there, then by rustup, then with Debian's compiler and the
# library built from its source.
need_target() {
	local target=$1
	TARGET_RUST=
	need_rust
	if [[ ${FAULTPATH_RUSTUP:-1} != 0 ]] && builds_for rustc "$target"; then
		return
	fi
	debian_toolchain
	if [[ -z $DEBIAN_RUST ]] || ! builds_for "$DEBIAN_RUST/bin/rustc" "$target"; then
		if [[ ${FAULTPATH_RUSTUP:-1} != 0 ]] && have rustup; then
			say "adding $target to the Rust toolchain (rustup)"
			if timeout 300 rustup target add "$target" && builds_for rustc "$target"; then
				return
			fi
			say "rustup could not add $target; taking Debian's compiler and the library's source instead"
		fi
		apt_need "building for $target" rustc-web cargo-web rust-web-src lld-19 gcc libc6-dev
		debian_toolchain
		locked debian-rust debian_target "$target"
	fi
	TARGET_RUST=$DEBIAN_RUST
}

for_target() {
	if [[ -n $TARGET_RUST ]]; then
		PATH=$TARGET_RUST/bin:$PATH RUSTC=$TARGET_RUST/bin/rustc \
			CARGO_TARGET_WASM32_UNKNOWN_UNKNOWN_LINKER=/usr/bin/lld-19 \
			CARGO_TARGET_THUMBV6M_NONE_EABI_LINKER=/usr/bin/ld.lld-19 \
			CARGO_TARGET_THUMBV7EM_NONE_EABIHF_LINKER=/usr/bin/ld.lld-19 \
			CARGO_TARGET_RISCV32IMC_UNKNOWN_NONE_ELF_LINKER=/usr/bin/ld.lld-19 "$@"
	else
		"$@"
	fi
}

# Sets DEBIAN_RUST: a folder laid out as a toolchain, with Debian's compiler and
# a library folder of our own beside the packaged one, so that /usr is left as
# the packages made it. Empty when the packages are not installed.
debian_toolchain() {
	local part
	DEBIAN_RUST=
	[[ -x /usr/bin/rustc && -x /usr/bin/cargo && -d /usr/lib/rustlib/src/rust/library && -x /usr/bin/lld-19 ]] || return 0
	DEBIAN_RUST=$CACHE/debian-rust-$(/usr/bin/rustc --version | cut -d' ' -f2)
	[[ -x $DEBIAN_RUST/bin/rustc ]] && return
	mkdir -p "$DEBIAN_RUST/bin" "$DEBIAN_RUST/lib/rustlib"
	for part in /usr/lib/rustlib/*; do
		ln -sfn "$part" "$DEBIAN_RUST/lib/rustlib/${part##*/}"
	done
	ln -sfn /usr/bin/cargo "$DEBIAN_RUST/bin/cargo"
	printf '#!/bin/sh\nexec /usr/bin/rustc --sysroot %q "$@"\n' "$DEBIAN_RUST" >"$DEBIAN_RUST/bin/rustc.new"
	chmod +x "$DEBIAN_RUST/bin/rustc.new"
	mv "$DEBIAN_RUST/bin/rustc.new" "$DEBIAN_RUST/bin/rustc"
}

# debian_target TARGET: the standard library for it, built from source once.
debian_target() {
	local target=$1 build parts=core into=$DEBIAN_RUST/lib/rustlib/$1/lib
	builds_for "$DEBIAN_RUST/bin/rustc" "$target" && return
	[[ $target == *-none-* ]] || parts=std,panic_abort
	say "building Rust's library for $target from source, once (about half a minute)"
	build=$(mktemp -d -p "$RUN_DIR")
	mkdir "$build/src"
	printf '[package]\nname = "empty"\nversion = "0.0.0"\nedition = "2024"\n' >"$build/Cargo.toml"
	printf '#![no_std]\n' >"$build/src/lib.rs"
	# The flag that lets a release compiler build its own library; nothing of
	# ours is built under it.
	(cd "$build" && RUSTC_BOOTSTRAP=1 RUSTC=/usr/bin/rustc CARGO_TARGET_DIR=$build/target \
		/usr/bin/cargo build --quiet --release --target "$target" "-Zbuild-std=$parts")
	rm -rf "$into.new"
	mkdir -p "$into.new"
	cp "$build/target/$target"/release/deps/*.rlib "$into.new/"
	rm "$into.new"/libempty-*
	rm -rf "$into" "$build"
	mv "$into.new" "$into"
}

# need_cargo_tool CRATE BINARY VERSION [OLDEST]: on PATH from here on. One that is
# there already serves when it is this version, or none older than OLDEST.
need_cargo_tool() {
	local crate=$1 binary=$2 version=$3 home=$CACHE/$1-$3 present
	if [[ ! -x $home/bin/$binary ]]; then
		if have "$binary"; then
			present=$("$binary" --version | cut -d' ' -f2)
			[[ $present != "$version" ]] || return 0
			[[ -z ${4:-} ]] || ! at_least "$present" "$4" || return 0
		fi
		locked "$crate" cargo_tool "$crate" "$binary" "$version" "$home"
	fi
	PATH=$home/bin:$PATH
}

cargo_tool() {
	local crate=$1 binary=$2 version=$3 home=$4 build install
	[[ ! -d $home ]] || return 0
	say "building $crate $version, once (a minute or two)"
	build=$(mktemp -d -p "$RUN_DIR")
	install=(env CARGO_TARGET_DIR="$build/target" CARGO_PROFILE_RELEASE_OPT_LEVEL=1 CARGO_PROFILE_RELEASE_LTO=off
		cargo install --quiet --root "$build/root" --bin "$binary" "$crate@$version")
	# Its own lock file first; that may name releases no longer served.
	"${install[@]}" --locked 2>"$build/log" || "${install[@]}" || {
		cat "$build/log" >&2
		die "cargo install $crate failed"
	}
	mv "$build/root" "$home"
	rm -rf "$build"
}

# ---------------------------------------------------------------- Node, Python, browser

need_node() {
	local wanted
	{ have node && have npm; } || die "Node.js is not installed (node and npm on PATH). Debian's is too old; see https://nodejs.org"
	wanted=$(sed -n 's/.*"node": *">=\([0-9.]*\)".*/\1/p' "$ROOT/web/package.json")
	at_least "$(node --version | tr -d v)" "${wanted:-20}" || die "Node.js $(node --version) is too old: ${wanted:-20} or newer is needed"
}

need_npm_packages() {
	need_node
	locked "npm-$(printf %s "$ROOT" | sha256sum | cut -c1-16)" npm_packages
}

npm_packages() {
	local stamp=$ROOT/web/node_modules/.faultpath now
	now="$(hash_of web/package-lock.json) $(node --version)"
	[[ $(cat "$stamp" 2>/dev/null) == "$now" ]] && return
	say "installing the page's npm packages"
	(cd "$ROOT/web" && npm ci --no-fund --no-audit --loglevel=error)
	printf '%s\n' "$now" >"$stamp"
}

# Sets PYTHON: an interpreter that has the oracles' packages.
need_python() {
	local list=$ROOT/tests/oracle/requirements.txt venv
	have python3 || apt_need "the oracles" python3 python3-venv
	venv=$CACHE/python-$( (cat "$list" && python3 --version) | sha256sum | cut -c1-16)
	[[ -e $venv/ready ]] || locked python python_packages "$venv" "$list"
	# shellcheck disable=SC2034 # used by the steps
	PYTHON=$venv/bin/python
}

python_packages() {
	local venv=$1 list=$2
	[[ ! -e $venv/ready ]] || return 0
	python3 -c 'import ensurepip, venv' 2>/dev/null || apt_need "the oracles" python3-venv
	say "installing the oracles' Python packages"
	rm -rf "$venv"
	python3 -m venv "$venv"
	"$venv/bin/python" -m pip install --quiet --disable-pip-version-check --only-binary :all: -r "$list"
	touch "$venv/ready"
}

# Exports CHROMIUM.
need_chromium() {
	local name
	for name in chromium chromium-browser google-chrome; do
		[[ -z ${CHROMIUM:-} ]] || break
		CHROMIUM=$(command -v "$name") || true
	done
	if [[ -z ${CHROMIUM:-} ]]; then
		apt_need "the browser tests" chromium
		CHROMIUM=/usr/bin/chromium
	fi
	[[ -x $CHROMIUM ]] || die "no Chromium at $CHROMIUM"
	export CHROMIUM
}

# ---------------------------------------------------------------- the page

# build_wasm: the page's files: web/src/pkg, which judges, and web/src/pkg-site, the whole, which it loads after that.
build_wasm() {
	wasm_built web/src/pkg --no-default-features
	wasm_built web/src/pkg-site --no-default-features --features site
}

# wasm_built FOLDER CARGO-ARGUMENT...
wasm_built() {
	need_npm_packages
	need_target wasm32-unknown-unknown
	need_cargo_tool wasm-bindgen-cli wasm-bindgen "$(sed -n '/^name = "wasm-bindgen"$/{n;s/version = "\(.*\)"/\1/p}' "$ROOT/Cargo.lock")"
	need_cargo_tool wasm-pack wasm-pack "$WASM_PACK_VERSION" 0.13.0 # the first with --profile
	locked "wasm-$(printf %s "$ROOT" | sha256sum | cut -c1-16)" wasm_package "$@"
}

wasm_package() {
	local name=$1 pkg=$ROOT/$1 made=$TARGET_DIR/pkg file=faultpath_wasm_bg.wasm now
	shift
	now="$(hash_of Cargo.toml Cargo.lock core wasm tests/Cargo.toml tests/src/bin/words.rs scripts/lib.sh web/package-lock.json) $(for_target rustc --version)"
	[[ -s $pkg/$file && $(cat "$pkg/.inputs" 2>/dev/null) == "$now" ]] && return
	say "building $name"
	rm -rf "$made"
	mkdir -p "$made"
	# No path of the machine it was built on stays in the file.
	(cd "$ROOT" && for_target env CARGO_TARGET_DIR="$TARGET_DIR" \
		CARGO_TARGET_WASM32_UNKNOWN_UNKNOWN_RUSTFLAGS="--remap-path-prefix=$ROOT=. --remap-path-prefix=${CARGO_HOME:-$HOME/.cargo}=cargo" \
		wasm-pack --quiet build wasm --target web --mode no-install --profile wasm --out-dir "$made" -- "$@" "${CARGO_LOCK[@]}")
	say "optimising it"
	"$ROOT/web/node_modules/.bin/wasm-opt" -Oz --flatten --rereloop -Oz --gufa-optimizing -Oz \
		--converge --zero-filled-memory --low-memory-unused --strip-producers "$made/$file" -o "$made/$file.opt"
	mv "$made/$file.opt" "$made/$file"
	# What the answers' codes say: of the same sources, and never without them.
	(cd "$ROOT" && cargo run --quiet "${CARGO_LOCK[@]}" -p faultpath-tests --bin words -- en) >"$made/words.en.json"
	printf '%s\n' "$now" >"$made/.inputs"
	rm -rf "$pkg"
	mkdir -p "${pkg%/*}"
	mv "$made" "$pkg"
	say "$name/$file: $(stat -c %s "$pkg/$file") bytes"
}

# build_page: web/dist.
build_page() {
	build_wasm
	locked "page-$(printf %s "$ROOT" | sha256sum | cut -c1-16)" page
}

page() {
	local stamp=$ROOT/web/node_modules/.faultpath-page now
	now="$(hash_of web vectors wasm) $(cat "$ROOT/web/src/pkg/.inputs" "$ROOT/web/src/pkg-site/.inputs") $(node --version) ${FAULTPATH_LANGUAGE:-en}"
	[[ -s $ROOT/web/dist/index.html && $(cat "$stamp" 2>/dev/null) == "$now" ]] && return
	say "building the page"
	(cd "$ROOT/web" && npm run --silent build)
	printf '%s\n' "$now" >"$stamp"
}
