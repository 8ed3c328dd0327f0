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
	'wasm      the vectors through the page'"'"'s wasm file in Node, bit for bit'
	'oracles   the formulas against mpmath, networks against pandapower, the job schema'
	'web       the page: types, lints, unit tests'
	'browser   the built page in Chromium'
)
# Figures, not verdicts: only when asked for.
BENCH_STEPS=(
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
	# As it is for the page's file: without what only the evidence and the catalogue need.
	cargo clippy "${CARGO_LOCK[@]}" -p faultpath-wasm --lib -- -D warnings
	cargo clippy "${CARGO_LOCK[@]}" -p faultpath --all-targets --no-default-features -- -D warnings
	cargo clippy "${CARGO_LOCK[@]}" -p faultpath --all-targets --all-features -- -D warnings
}

step_doc() {
	need_rust
	export RUSTDOCFLAGS='-D warnings'
	cargo doc "${CARGO_LOCK[@]}" --no-deps --workspace --lib
	cargo doc "${CARGO_LOCK[@]}" --no-deps -p faultpath
}

step_native() {
	need_rust
	cargo test "${CARGO_LOCK[@]}" --workspace
	cargo test "${CARGO_LOCK[@]}" -p faultpath --no-default-features
}

step_cortex() {
	local features
	need_target thumbv7em-none-eabihf
	for features in --no-default-features --all-features; do
		for_target cargo build "${CARGO_LOCK[@]}" --release -p faultpath --target thumbv7em-none-eabihf "$features"
	done
}

step_wasm() {
	build_wasm
	build_evidence
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

step_benches() {
	build_page
	need_chromium
	cargo bench "${CARGO_LOCK[@]}" -p faultpath-tests
	node scripts/sizes.mjs
	cd web || exit
	npm run --silent bench
}
