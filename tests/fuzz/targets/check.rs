//! Structures of any kind.
#![no_main]

libfuzzer_sys::fuzz_target!(|data: &[u8]| {
    faultpath_tests::fuzz::check(data);
});
