//! What is kept of fuzzing, given again, and changed some thousand times from a seed: the same each time.
//!
//! What looks for new ways through the code is `./test fuzz`.

use faultpath_tests::fuzz::{self, Random};
use std::fs;
use std::path::{Path, PathBuf};

/// Files of a folder of `tests`, in the order of their names.
fn kept(folder: &str) -> Vec<Vec<u8>> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join(folder);
    let mut paths: Vec<PathBuf> = fs::read_dir(folder)
        .unwrap()
        .map(|f| f.unwrap().path())
        .collect();
    paths.sort();
    assert!(paths.len() > 20);
    paths.iter().map(|p| fs::read(p).unwrap()).collect()
}

/// Some bytes of one changed, left out or put in, or the end of another.
fn changed(all: &[Vec<u8>], random: &mut Random) -> Vec<u8> {
    const ENDS: [u8; 6] = [0x00, 0x01, 0x7f, 0x80, 0xfe, 0xff];
    let mut data = all[random.below(all.len())].clone();
    for _ in 0..=random.below(4) {
        let at = random.below(data.len());
        match random.below(6) {
            0 => data.insert(at, random.below(256) as u8),
            1 if !data.is_empty() => drop(data.remove(at)),
            2 if !data.is_empty() => data[at] ^= 1 << random.below(8),
            3 if !data.is_empty() => data[at] = ENDS[random.below(ENDS.len())],
            4 if !data.is_empty() => data[at] = random.below(256) as u8,
            _ => {
                let other = &all[random.below(all.len())];
                data.truncate(at);
                data.extend(&other[random.below(other.len())..]);
            }
        }
    }
    data
}

/// Gives all that is kept to a target, then what `change` makes of it; so many of these are to reach what the target
/// is for, or it was no trial.
fn tried(
    kept: &[Vec<u8>],
    target: fn(&[u8]) -> bool,
    times: usize,
    reach: usize,
    change: fn(&[Vec<u8>], &mut Random) -> Vec<u8>,
) {
    for data in kept {
        target(data);
    }
    let mut random = Random(1);
    let reached = (0..times)
        .filter(|_| target(&change(kept, &mut random)))
        .count();
    println!("{reached} of {times}");
    assert!(reached >= reach, "only {reached} of {times}");
}

#[test]
fn frames() {
    tried(
        &kept("fuzz/corpus/frame"),
        fuzz::frame,
        300_000,
        1000,
        changed,
    );
}

#[test]
fn structures() {
    tried(
        &kept("fuzz/corpus/check"),
        fuzz::check,
        60_000,
        30_000,
        changed,
    );
}

#[test]
fn jobs() {
    let mut all = kept("fuzz/corpus/job");
    all.extend(
        kept("../vectors/examples")
            .into_iter()
            .filter(|job| job.len() < 10_000),
    );
    tried(&all, fuzz::job, 6000, 1500, |all, random| {
        let one = &all[random.below(all.len())];
        match random.below(8) {
            0 => changed(all, random),
            _ => fuzz::changed(one, random).map_or_else(|| one.clone(), String::into_bytes),
        }
    });
}
