//! An earth fault at a board that stands on an electrode: to its own metal, its busbars or what leads to
//! them, in front of the RCDs in it.
//!
//! What is in front must disconnect it: an RCD at the start of the feed or before, with RA·IΔn ≤ 50 V, or
//! the overcurrent device there, with the loop through the electrodes and the time of a distribution circuit
//! (BS 7671 411.3.2.4, 411.5.3, 411.5.4). Otherwise everything up to the terminals of the first RCD must be
//! of class II or equivalent insulation (BS 7671 531.3.5.3 and 412; IEC 60364-4-41 412). From memory.
//!
//! A board that takes its earth over its feed has none of this: there the feed's own check of disconnection
//! is of a fault at the board.

use super::disconnection::Limits;
use super::{finding, finite};
use crate::device::{Device, Rcd};
use crate::facts::{Spot, note};
use crate::network::{Board, Enclosure};
use crate::profile::{Profile, long_time, short_time};
use crate::quantity::Volts;
use crate::source::Source;
use crate::verdict::{
    Assumed, Check, Finding, Lacking, Outcome, Place, Recorder, Rule, Sense, Topic, Unit,
};

/// What may disconnect.
#[derive(Clone, Copy)]
pub(crate) struct Front {
    /// The overcurrent device: of the feed, or the incoming one.
    pub device: Option<Device>,
    /// The best of the RCDs.
    pub rcd: Option<Rcd>,
}

/// `source` is what the board's circuits are fed from.
pub(crate) fn judge<R: Recorder + ?Sized>(
    place: Place,
    profile: &Profile,
    source: &Source,
    front: Front,
    board: &Board,
    rec: &mut R,
) -> Finding {
    let found = disconnected(place, profile, source, front);
    if found.finding.outcome == Outcome::Pass || board.enclosure != Some(Enclosure::Insulated) {
        let mut f = found.told(profile, source, rec);
        if f.outcome != Outcome::Pass && board.enclosure.is_none() {
            f.outcome = Outcome::CannotSay;
            f.lacking |= Lacking::ENCLOSURE;
        }
        if f.rule != Rule::BoardMaxZs {
            f.assumed |= Assumed::RCD_UPSTREAM;
        }
        return f;
    }
    let mut f = finding(
        place,
        Check::BoardFault,
        Rule::InsulatedFront,
        Unit::Ohm,
        Sense::AtMost,
    );
    f.outcome = Outcome::Pass;
    if board.rcd.is_some() {
        // Behind its own RCD the board may be of metal: that one must do.
        let own = Front {
            rcd: source.rcd,
            ..front
        };
        f = disconnected(place, profile, source, own).told(profile, source, rec);
    }
    f.assumed |= Assumed::INSULATED_FRONT;
    f
}

/// What came out, and what its working is made of.
struct Found {
    finding: Finding,
    zs: Option<f32>,
    limits: Option<Limits>,
    /// Ohms, amperes and the voltage that makes.
    touch: Option<[f32; 3]>,
}

/// Whether a fault at the board is disconnected in time.
fn disconnected(place: Place, profile: &Profile, source: &Source, front: Front) -> Found {
    let conductors = source.line.hot + source.protective.hot;
    let zs = source.loop_external.map(|e| e.largest_with(conductors));
    let mut found = Found {
        finding: finding(
            place,
            Check::BoardFault,
            Rule::BoardMaxZs,
            Unit::Ohm,
            Sense::AtMost,
        ),
        zs,
        limits: None,
        touch: None,
    };
    let f = &mut found.finding;
    f.assumed = source.assumed_loop;
    f.value = zs.and_then(finite);
    // As for circuits: no time where the table has none for this voltage.
    if short_time(source.earthing, Volts::raw(source.u0)).is_err() {
        f.lacking = Lacking::LIMIT;
        return found;
    }
    let time = long_time(source.earthing);
    let ia = front
        .device
        .and_then(|d| d.disconnecting_current(time).value());
    let limits = Limits::of_device(profile, source.u0, time, ia);
    let limits = limits.with(profile, source.u0, &[front.rcd]);
    let Limits { device, rcd, .. } = limits;
    found.limits = Some(limits);
    let Some(zs) = zs else {
        f.limit = device.or(rcd).and_then(|(l, _)| finite(l));
        f.lacking = source.lacking_loop;
        return found;
    };
    let within = |mut f: Finding, limit| {
        f.hold_worked(zs, limit);
        f
    };
    let by_device = device.map(|(limit, _)| within(*f, limit));
    if let Some(passed) = by_device.filter(|f| f.outcome == Outcome::Pass) {
        *f = passed;
        return found;
    }
    let mut worst = match (by_device, front.rcd, rcd) {
        (_, Some(serving), Some((limit, _))) => {
            f.rule = Rule::MaxZsRcd;
            let time = within(*f, limit);
            let touch = touch(profile, source, serving, *f, &mut found.touch);
            // Both must hold; where both do, the nearer to its limit is shown.
            let nearer = touch.margin() < time.margin();
            if touch.outcome > time.outcome || (touch.outcome == time.outcome && nearer) {
                touch
            } else {
                time
            }
        }
        (Some(by_device), ..) => by_device,
        _ => *f,
    };
    // That nothing disconnects is known only where the device is, and its curve at that time.
    if worst.outcome != Outcome::Pass && by_device.is_none_or(|f| f.outcome != Outcome::Fail) {
        worst.outcome = Outcome::CannotSay;
        worst.lacking |= match (by_device, front.device) {
            (Some(f), _) => f.lacking,
            (None, Some(_)) => Lacking::CURVE,
            (None, None) => Lacking::INCOMING,
        };
    }
    found.finding = worst;
    found
}

/// What stays on the board's metal with a fault too small for the RCD.
fn touch(
    profile: &Profile,
    source: &Source,
    rcd: Rcd,
    mut f: Finding,
    working: &mut Option<[f32; 3]>,
) -> Finding {
    let limit = profile.touch_voltage;
    (f.rule, f.unit) = (Rule::TouchVoltage, Unit::Volt);
    (f.value, f.limit) = (None, finite(limit));
    let Some(ra) = source.ra else {
        f.lacking |= Lacking::RA;
        return f;
    };
    let total = ra + source.protective.hot.r;
    let sensitivity = rcd.sensitivity().get();
    let volts = total * sensitivity;
    *working = Some([total, sensitivity, volts]);
    f.hold_worked(volts, limit);
    f
}

impl Found {
    /// The finding; its working goes to the recorder.
    fn told<R: Recorder + ?Sized>(
        &self,
        profile: &Profile,
        source: &Source,
        rec: &mut R,
    ) -> Finding {
        let spot = Spot::at(self.finding.place, Topic::BoardFault);
        let Some(limits) = &self.limits else {
            return self.finding;
        };
        let t = limits.time.get();
        let (cmin, u0) = (profile.cmin, source.u0);
        note(rec, spot, Rule::TimeAllowed, t, Unit::Second, [u0]);
        if let (Some(zs), Some(outside)) = (self.zs, source.loop_external) {
            let (line, protective) = (source.line.hot, source.protective.hot);
            let x = line.x + protective.x;
            let of = [outside.magnitude, line.r, protective.r, x];
            note(rec, spot, Rule::ZsBoard, zs, Unit::Ohm, of);
        }
        if let Some((limit, ia)) = limits.device {
            note(rec, spot, Rule::Ia, ia, Unit::Ampere, [t]);
            let of = [cmin, u0, ia];
            note(rec, spot, Rule::BoardMaxZs, limit, Unit::Ohm, of);
        }
        if let Some((limit, i)) = limits.rcd {
            note(rec, spot, Rule::IaRcd, i, Unit::Ampere, [t]);
            note(rec, spot, Rule::MaxZsRcd, limit, Unit::Ohm, [cmin, u0, i]);
        }
        if let Some([total, sensitivity, volts]) = self.touch {
            let of = [total, sensitivity, profile.touch_voltage];
            note(rec, spot, Rule::TouchVoltage, volts, Unit::Volt, of);
        }
        self.finding
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::device::RcdDelay;
    use crate::fixture::{Working, board, house, near, ohms, rcd};
    use crate::impedance::{Pair, Z};
    use crate::network::BoardId;
    use crate::supply::Earthing;

    /// An electrode of 100 Ω, and 5 + j0.3 Ω of protective conductor to it; j0.2 Ω there. Of 0.1 A stay 10.5 V.
    #[test]
    fn what_leads_to_the_electrode_counts() {
        let mut inst = house();
        inst.supply.ra = Some(ohms(100.0));
        let mut source = Source::at_origin(&inst.supply, Earthing::Tt, &inst.profile);
        let pair = |r, x| Pair {
            hot: Z { r, x },
            cold: Z { r, x: 0.0 },
        };
        (source.line, source.protective) = (pair(1.0, 0.2), pair(5.0, 0.3));
        let front = Front {
            device: None,
            rcd: Some(rcd(0.1, RcdDelay::None)),
        };
        let mut metal = board(None);
        metal.enclosure = Some(Enclosure::Metal);
        let judged = |source: &Source| {
            let mut rec = Working::default();
            let place = Place::Board(BoardId(0));
            let f = judge(place, &inst.profile, source, front, &metal, &mut rec);
            (f, rec.steps)
        };
        let (f, steps) = judged(&source);
        assert_eq!((f.outcome, f.rule), (Outcome::Pass, Rule::TouchVoltage));
        near(f.value.unwrap(), 10.5, 1e-6);
        let of = |rule| *steps.iter().find(|s| s.rule == rule).unwrap();
        near(of(Rule::TouchVoltage).operands[0], 105.0, 1e-6);
        near(of(Rule::ZsBoard).operands[3], 0.5, 1e-6);
        // Of an electrode that is not known nothing is known.
        source.ra = None;
        let (f, _) = judged(&source);
        assert_eq!(
            (f.outcome, f.rule),
            (Outcome::CannotSay, Rule::TouchVoltage)
        );
        assert!(f.lacking.contains(Lacking::RA));
    }
}
