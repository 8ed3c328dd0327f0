//! Bytes of a line.
#![no_main]

libfuzzer_sys::fuzz_target!(|data: &[u8]| {
    faultpath_tests::fuzz::frame(data);
});
