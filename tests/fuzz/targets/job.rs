//! Jobs. Now and then the bytes are changed, mostly a value of the job.
#![no_main]

use faultpath_tests::fuzz::{Random, changed, job};
use libfuzzer_sys::{fuzz_mutator, fuzz_target, fuzzer_mutate};

fuzz_target!(|data: &[u8]| {
    job(data);
});

fuzz_mutator!(|data: &mut [u8], size: usize, max_size: usize, seed: u32| {
    let mut random = Random(u64::from(seed));
    if random.below(8) > 0 {
        if let Some(text) = changed(&data[..size], &mut random) {
            if text.len() <= max_size {
                data[..text.len()].copy_from_slice(text.as_bytes());
                return text.len();
            }
        }
    }
    fuzzer_mutate(data, size, max_size)
});
