//! The smallest use: the largest Zs of a device of any family, and a reading held against it.
#![no_std]
#![no_main]

#[path = "../start.rs"]
mod start;

use core::hint::black_box;
use faultpath::device::{Curve, Device, Family, Known, max_zs};
use faultpath::quantity::{Amps, Ratio, Seconds, Volts};
use faultpath::reading::interval::{Accuracy, Shown, interval, judge};
use faultpath::verdict::{Outcome, Sense};

struct Input {
    family: u8,
    rating: f32,
    seconds: f32,
    u0: f32,
    shown: f32,
    share: f32,
    digits: f32,
    step: f32,
}

#[inline(never)]
fn verdict(input: &Input) -> Option<Outcome> {
    let family = match input.family {
        0 => Family::Breaker(Curve::B),
        1 => Family::Breaker(Curve::C),
        2 => Family::Breaker(Curve::D),
        3 => Family::Bs88_2,
        4 => Family::Bs88_3,
        5 => Family::Bs3036,
        6 => Family::Bs1361,
        7 => Family::Bs1362,
        _ => Family::Gg,
    };
    let device = Device::new(family, Amps::new(input.rating).ok()?).ok()?;
    let time = Seconds::new(input.seconds).ok()?;
    let cmin = Ratio::new(0.95).ok()?;
    let Known::Value(limit) = max_zs(&device, time, Volts::new(input.u0).ok()?, cmin) else {
        return Some(Outcome::CannotSay);
    };
    let meter = Accuracy::new(input.share, input.digits, input.step).ok()?;
    let band = interval(Shown::value(input.shown).ok()?, &meter);
    Some(judge(Sense::AtMost, band, limit.get()))
}

fn work() -> u32 {
    // A fuse between two points of its curve: the longest way.
    let input = Input {
        family: 3,
        rating: 32.0,
        seconds: 1.0,
        u0: 230.0,
        shown: 0.71,
        share: 0.03,
        digits: 5.0,
        step: 0.01,
    };
    start::measured(|| verdict(black_box(&input)).map_or(9, |o| o as u32))
}
