# shellcheck shell=bash disable=SC2034 # the lists are read by ./test
# The steps of ./test, one function each, with what a step is for in STEPS.
# A step fails by any command in it failing; each runs in a shell of its own,
# from the root of the tree, and may rely on nothing that another step did.

STEPS=(
	'shell     the scripts themselves, by shellcheck'
	'fmt       Rust formatting'
	'clippy    Rust lints, warnings denied, core with and without its features'
	'doc       Rust documentation, warnings denied'
	'native    unit tests, doc examples, vectors and properties on this machine'
	'cortex    core builds for a Cortex-M4F, with and without its features'
	'c         the C interface: header, gcc with sanitizers, the same on a Cortex-M4F'
	'firmware  the instrument in QEMU: the vectors bit for bit, 100 000 frames'
	'figures   the probes for a Cortex-M4F: no panic, no .data, the table of core/README.md'
	'wasm      the vectors through the page'"'"'s wasm file in Node, bit for bit'
	'oracles   the formulas against mpmath, networks against pandapower, the job schema'
	'web       the page: types, lints, unit tests'
	'browser   the built page in Chromium'
)
# Figures, and what would take the plain run over its twenty-five minutes: only when asked for.
BENCH_STEPS=(
	'features  core builds with any two of its features together, and with each alone'
	'fuzz      frames, jobs and structures of any kind: libFuzzer looks for new ways, some seconds each'
	'costs     what each feature of core takes, the table of core/README.md'
	'release   what a publication asks for: packaged, oldest compiler, licences, combinations of features'
	'targets   as figures, for all three processors'
	'mutants   core changed in some four thousand places: which changes the tests notice (an hour)'
	'benches   times of a whole check, bytes of the wasm file, edit to painted verdict'
)

# Tests run optimised, or the properties take minutes, but with overflow checks
# and debug assertions left on.
export CARGO_PROFILE_DEV_OPT_LEVEL=2 CARGO_PROFILE_DEV_DEBUG=line-tables-only
export CARGO_TERM_COLOR=${CARGO_TERM_COLOR:-auto}

step_shell() {
	have shellcheck || apt_need "checking the scripts" shellcheck
	shellcheck -x run test .ci/run scripts/*.sh
}

step_fmt() {
	need_component rustfmt fmt
	cargo fmt --all --check
}

step_clippy() {
	need_component clippy clippy
	cargo clippy "${CARGO_LOCK[@]}" --workspace --all-targets -- -D warnings
	# As it is for the page's files: without what only the catalogue needs.
	cargo clippy "${CARGO_LOCK[@]}" -p faultpath-wasm --lib -- -D warnings
	cargo clippy "${CARGO_LOCK[@]}" -p faultpath-wasm --lib --no-default-features -- -D warnings
	cargo clippy "${CARGO_LOCK[@]}" -p faultpath --all-targets --no-default-features -- -D warnings
	cargo clippy "${CARGO_LOCK[@]}" -p faultpath --all-targets --all-features -- -D warnings
}

step_doc() {
	need_rust
	export RUSTDOCFLAGS='-D warnings'
	cargo doc "${CARGO_LOCK[@]}" --no-deps --workspace --lib
	cargo doc "${CARGO_LOCK[@]}" --no-deps -p faultpath
	# As docs.rs makes it.
	cargo doc "${CARGO_LOCK[@]}" --no-deps -p faultpath --all-features
}

step_native() {
	need_rust
	cargo test "${CARGO_LOCK[@]}" --workspace
	# Without words. Without tables nothing is made, and there is little to test.
	cargo test "${CARGO_LOCK[@]}" -p faultpath --no-default-features --features tables
}

step_cortex() {
	local features
	need_target thumbv7em-none-eabihf
	for features in --no-default-features --all-features; do
		for_target cargo build "${CARGO_LOCK[@]}" --release -p faultpath --target thumbv7em-none-eabihf "$features"
	done
}

# What a C compiler must not even warn of.
C_STRICT=(-std=c99 -Wall -Wextra -Werror -pedantic)

step_c() {
	local ffi=core/ffi out=$RUN_DIR/c name entries target=thumbv7em-none-eabihf
	need_rust
	have gcc || apt_need "compiling the C examples" gcc libc6-dev
	mkdir -p "$out"

	# The header is what cbindgen makes of the sources.
	need_cargo_tool cbindgen cbindgen 0.29.4
	(cd "$ffi" && cbindgen --quiet --config cbindgen.toml --output "$out/faultpath.h")
	diff -u "$ffi/faultpath.h" "$out/faultpath.h" ||
		die "faultpath.h is not what cbindgen makes. In $ffi: cbindgen --config cbindgen.toml --output faultpath.h"

	cargo build "${CARGO_LOCK[@]}" --release -p faultpath-ffi
	entries=-DENTRIES=$(grep -c '^fp_status fp_' "$ffi/faultpath.h")
	for name in example refusals; do
		gcc "${C_STRICT[@]}" "$entries" -g -fsanitize=address,undefined -fno-sanitize-recover=all \
			"$ffi/c/$name.c" "$TARGET_DIR/release/libfaultpath_ffi.a" -lm -lpthread -ldl -o "$out/$name"
		"$out/$name" >"$out/$name.native" || { cat "$out/$name.native"; die "$name.c failed"; }
		tail -n 1 "$out/$name.native"
	done

	# The same on an instrument's processor, to the last bit of what is printed.
	if ! have arm-none-eabi-gcc && [[ $(id -u) != 0 ]]; then
		say "SKIPPED: the C examples on a Cortex-M4F. They need gcc-arm-none-eabi, libnewlib-arm-none-eabi, qemu-system-arm"
		return
	fi
	apt_need "the C examples on a Cortex-M4F" gcc-arm-none-eabi libnewlib-arm-none-eabi qemu-system-arm
	need_target "$target"
	for_target cargo build "${CARGO_LOCK[@]}" --release -p faultpath-ffi --target "$target"
	for name in example refusals; do
		# Nobody defines what the panic handler asks for: with a way to a panic this does not link.
		arm-none-eabi-gcc -mcpu=cortex-m4 -mthumb -mfloat-abi=hard -mfpu=fpv4-sp-d16 "${C_STRICT[@]}" "$entries" -Os \
			-ffunction-sections -fdata-sections --specs=rdimon.specs \
			-Wl,--gc-sections,-u,vectors,--no-warn-execstack,--no-warn-rwx-segments,--section-start=.vectors=0 \
			"$ffi/c/$name.c" "$ffi/c/start.c" "$TARGET_DIR/$target/release/libfaultpath_ffi.a" -o "$out/$name.elf"
		timeout 120 qemu-system-arm -M mps2-an386 -display none -monitor none -serial none \
			-semihosting-config enable=on,target=native -kernel "$out/$name.elf" >"$out/$name.arm" || {
			cat "$out/$name.arm"
			die "$name.c failed on the Cortex-M4F"
		}
		diff "$out/$name.native" "$out/$name.arm" || die "$name.c has other results on the Cortex-M4F"
	done
	say "the same to the last bit on the Cortex-M4F, and no way to a panic"
}

step_figures() {
	figures thumbv7em-none-eabihf
}

step_targets() {
	apt_need "running a RISC-V" qemu-system-misc
	figures thumbv6m-none-eabi thumbv7em-none-eabihf riscv32imc-unknown-none-elf
}

# figures TARGET...
figures() {
	local target kind out=$RUN_DIR/figures
	apt_need "running a Cortex-M4F" qemu-system-arm
	have llvm-objdump || apt_need "the stack by analysis" llvm
	have python3 || apt_need "the figures of the probes" python3
	for target; do
		need_target "$target"
		for kind in probe measure; do
			for_target cargo build "${CARGO_LOCK[@]}" --profile firmware -p faultpath-firmware \
				--features "$kind" --bins --target "$target"
			mkdir -p "$out/$kind/$target"
			cp "$TARGET_DIR/$target/firmware"/probe-{zs,circuit,all} "$out/$kind/$target/"
		done
	done
	python3 scripts/figures.py "$out/probe" "$out/measure" core/README.md
}

# Features of core that can be left out, see core/Cargo.toml.
feature_names() {
	sed -n '/^tables = \[/,/^\]/p' core/Cargo.toml | grep -o '"[^"]*"' | tr -d '"'
}

step_costs() {
	local target=thumbv7em-none-eabihf out=$RUN_DIR/costs one other features
	have python3 || apt_need "the figures of the probes" python3
	need_target "$target"
	for one in nothing fuses $(feature_names); do
		features=probe
		for other in $(feature_names); do
			[[ $other == "$one" || $one$other =~ ^fuses(bs|gg) ]] || features+=,faultpath/$other
		done
		for_target cargo build "${CARGO_LOCK[@]}" --quiet --profile firmware -p faultpath-firmware --no-default-features \
			--features "$features" --bin probe-circuit --target "$target"
		mkdir -p "$out/$one"
		cp "$TARGET_DIR/$target/firmware/probe-circuit" "$out/$one/"
	done
	python3 scripts/figures.py --costs "$out" core/README.md
}

# hacked ARGUMENT...: core with combinations of its features.
hacked() {
	need_rust
	need_cargo_tool cargo-hack cargo-hack 0.6.46
	RUSTFLAGS='-D warnings' CARGO_TARGET_DIR=$TARGET_DIR/features \
		cargo hack check "${CARGO_LOCK[@]}" --quiet -p faultpath --lib --feature-powerset --exclude-features default,tables "$@"
}

step_features() {
	hacked --depth 2
}

step_fuzz() {
	local target seconds=${FAULTPATH_FUZZ_SECONDS:-10} bin seeds
	need_rust
	have g++ || apt_need "building libFuzzer" g++
	need_cargo_tool cargo-fuzz cargo-fuzz 0.13.2
	# Without a sanitizer: there is nothing unsafe here, and so any compiler will do.
	CARGO_TARGET_DIR=$TARGET_DIR/fuzz cargo fuzz build --fuzz-dir tests/fuzz --sanitizer none
	bin=$TARGET_DIR/fuzz/$(rustc -vV | sed -n 's/^host: //p')/release
	for target in frame job check; do
		# What is found goes to the first folder, and stays out of the tree.
		seeds=("$RUN_DIR/fuzz/$target" "tests/fuzz/corpus/$target")
		[[ $target != job ]] || seeds+=(vectors/examples)
		mkdir -p "${seeds[0]}" tests/fuzz/artifacts
		"$bin/$target" "${seeds[@]}" -max_total_time="$seconds" -len_control=0 -max_len=20000 -timeout=300 \
			-artifact_prefix="tests/fuzz/artifacts/$target-" -print_final_stats=1 >"$RUN_DIR/fuzz.log" 2>&1 || {
			tail -n 40 "$RUN_DIR/fuzz.log"
			die "$target: what it was given is in tests/fuzz/artifacts"
		}
		say "$target: $(sed -n 's/^Done //p' "$RUN_DIR/fuzz.log")"
	done
}

step_release() {
	local oldest baseline
	need_rust
	# Whole and by itself: what is in the package builds.
	cargo package -p faultpath --allow-dirty --target-dir "$TARGET_DIR/package" 2>&1 | tee "$RUN_DIR/package.log"
	if grep -q '^warning' "$RUN_DIR/package.log"; then
		die "cargo package warns"
	fi
	oldest=$(sed -n 's/^rust-version = "\(.*\)"/\1/p' Cargo.toml)
	if have rustup && { rustup run "$oldest" rustc --version || rustup toolchain install "$oldest" --profile minimal; } >/dev/null 2>&1; then
		(
			export CARGO_TARGET_DIR=$TARGET_DIR/oldest
			cargo "+$oldest" check --quiet -p faultpath --all-features
			cargo "+$oldest" check --quiet -p faultpath-ffi -p faultpath-firmware
		)
		say "core, the C interface and the firmware build with Rust $oldest"
	else
		say "SKIPPED: Rust $oldest is not to be had"
	fi

	need_cargo_tool cargo-deny cargo-deny 0.20.2
	cargo deny check licenses bans sources
	# Advisories are kept where git reaches; that none is known there is only said where it was asked.
	if cargo deny fetch db 2>"$RUN_DIR/advisories.log"; then
		cargo deny check --disable-fetch advisories
		need_cargo_tool cargo-audit cargo-audit 0.22.1
		cargo audit --no-fetch --db "$(find "${CARGO_HOME:-$HOME/.cargo}/advisory-dbs" -mindepth 1 -maxdepth 1 -type d | head -n 1)"
	else
		tail -n 3 "$RUN_DIR/advisories.log"
		say "SKIPPED: the database of advisories is not to be reached, so nobody asked it (cargo deny, cargo audit)"
	fi

	# What is public against the last release, or, as long as there is none, against the state that is named.
	baseline=${FAULTPATH_BASELINE:-$(git describe --tags --abbrev=0 --match 'v*' 2>/dev/null || true)}
	if [[ -n $baseline ]]; then
		need_cargo_tool cargo-semver-checks cargo-semver-checks 0.51.0
		CARGO_TARGET_DIR=$TARGET_DIR/semver cargo semver-checks -p faultpath --all-features --baseline-rev "$baseline"
	else
		say "SKIPPED: nothing was released yet to compare with; FAULTPATH_BASELINE=REV names a state (cargo semver-checks)"
	fi

	# What is compiled hangs on words and lesson alone (tests/tests/features.rs), so the tables go together here.
	if [[ ${FAULTPATH_POWERSET:-} == all ]]; then
		hacked
	else
		hacked --group-features "$(sed -n '/^tables = \[/,/^\]/p' core/Cargo.toml | grep -o '"[^"]*"' | tr -d '"' | paste -sd,)"
	fi
}

step_firmware() {
	local features target=thumbv7em-none-eabihf out=$RUN_DIR/firmware
	apt_need "running a Cortex-M4F" qemu-system-arm
	need_target "$target"
	mkdir -p "$out"
	for features in board board,evidence; do
		for_target cargo build "${CARGO_LOCK[@]}" --release -p faultpath-firmware --bin instrument \
			--features "$features" --target "$target"
		cp "$TARGET_DIR/$target/release/instrument" "$out/$features.elf"
	done
	cargo build "${CARGO_LOCK[@]}" --release -p faultpath-tests --bin desk
	"$TARGET_DIR/release/desk" "$out/board.elf" "$out/board,evidence.elf"
}

step_wasm() {
	build_wasm
	node tests/wasm.mjs
}

step_oracles() {
	need_rust
	need_python
	"$PYTHON" tests/oracle/run.py
}

step_web() {
	build_wasm
	cd web || exit
	npm run --silent typecheck
	npm run --silent lint
	npm run --silent test
}

step_browser() {
	build_page
	need_chromium
	cd web || exit
	npm run --silent e2e
}

step_mutants() {
	local files
	need_rust
	need_python
	# Names of files or folders of core/src, none for all.
	read -ra files <<<"${MUTANTS:-}"
	# A workspace of its own.
	PYTHON=$PYTHON CARGO_TARGET_DIR=$TARGET_DIR/mutants-tool cargo run --quiet --manifest-path tests/mutants/Cargo.toml -- \
		"$TARGET_DIR/mutants" "${files[@]}"
}

step_benches() {
	build_page
	need_chromium
	cargo bench "${CARGO_LOCK[@]}" -p faultpath-tests
	node scripts/sizes.mjs
	cd web || exit
	npm run --silent bench
}
