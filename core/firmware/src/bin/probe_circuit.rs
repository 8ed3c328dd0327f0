//! The whole check of one final circuit: every finding with its figures goes to a recorder.
#![no_std]
#![no_main]

#[path = "../start.rs"]
mod start;

use core::hint::black_box;
use faultpath::assess::assess_circuit;
use faultpath::network::Circuit;
use faultpath::profile::Profile;
use faultpath::source::Source;
use faultpath::supply::Earthing;
use faultpath::verdict::{Finding, Outcome, Recorder};
use faultpath_firmware::samples;

static PROFILE: Profile = Profile::UK;

/// As an instrument with a display would: every figure is used.
struct Shown(Outcome);

impl Recorder for Shown {
    fn finding(&mut self, finding: &Finding) {
        self.0 = self.0.worse(black_box(finding).outcome);
    }
}

#[inline(never)]
fn check(profile: &Profile, source: &Source, circuit: &Circuit) -> Outcome {
    match assess_circuit(profile, source, circuit, None, &mut Shown(Outcome::Pass)) {
        Ok((outcome, facts)) => {
            black_box(facts.zs);
            outcome
        }
        Err(_) => Outcome::CannotSay,
    }
}

fn work() -> u32 {
    let (wired, ze) = black_box((&samples::PROBE, samples::PROBE_ZE));
    let (Some(circuit), Some(supply)) = (samples::circuit(wired), samples::supply(ze)) else {
        return 9;
    };
    let source = Source::at_origin(&supply, Earthing::TnCS, &PROFILE);
    start::measured(|| check(black_box(&PROFILE), black_box(&source), black_box(&circuit)) as u32)
}
