//! Disconnection in time: BS 7671 411.4 (TN) and 411.5 (TT), IEC 60364-4-41 (from memory).
//!
//! The device disconnects in time where Zs ≤ cmin·U0/Ia; an RCD where the fault current reaches the
//! multiple of IΔn for which its standard gives a time short enough, Zs ≤ cmin·U0/IΔ. Either is enough.

use super::{Case, finding};
use crate::device::Known;
use crate::facts::note;
use crate::network::Use;
use crate::profile::{SHORT_TIME_FIXED, SHORT_TIME_SOCKETS, long_time, short_time};
use crate::quantity::{Seconds, Volts};
use crate::verdict::{Check, Lacking, Outcome, Recorder, Rule, Sense, Topic, Unit};

/// The time allowed for this circuit.
pub(crate) fn time_allowed(case: &Case<'_>) -> Option<Seconds> {
    let short = short_time(case.source.earthing, Volts::raw(case.source.u0)).ok()?;
    let rating = case.facts.rating;
    let is_short = match case.circuit.purpose {
        Use::Distribution => false,
        Use::Sockets => rating <= SHORT_TIME_SOCKETS,
        Use::Lighting | Use::Fixed => rating <= SHORT_TIME_FIXED,
    };
    Some(if is_short {
        short
    } else {
        long_time(case.source.earthing)
    })
}

pub(crate) fn check<R: Recorder + ?Sized>(case: &Case<'_>, rec: &mut R) {
    let mut f = finding(
        case.place,
        Check::Disconnection,
        Rule::MaxZs,
        Unit::Ohm,
        Sense::AtMost,
    );
    f.assumed = case.source.assumed_loop;
    f.value = case.facts.zs;
    let spot = case.spot(Topic::Disconnection);
    let Some(t) = time_allowed(case) else {
        f.lacking = Lacking::LIMIT;
        rec.finding(&f);
        return;
    };
    note(
        rec,
        spot,
        Rule::TimeAllowed,
        t.get(),
        Unit::Second,
        [case.source.u0],
    );

    let volts = case.profile.cmin * case.source.u0;
    // The device's own limit, and the best of the RCDs'.
    let by_device = match case.circuit.device.disconnecting_current(t) {
        Known::Value(ia) => Some((volts / ia.get(), ia.get())),
        Known::NotKnown(_) => None,
    };
    if let Some((limit, ia)) = by_device {
        note(rec, spot, Rule::Ia, ia, Unit::Ampere, [t.get()]);
        note(
            rec,
            spot,
            Rule::MaxZs,
            limit,
            Unit::Ohm,
            [case.profile.cmin, case.source.u0, ia],
        );
    }
    let mut by_rcd: Option<(f32, f32)> = None;
    for rcd in case.rcds() {
        if let Known::Value(i) = rcd.disconnecting_current(t) {
            let limit = volts / i.get();
            if by_rcd.is_none_or(|(l, _)| limit > l) {
                by_rcd = Some((limit, i.get()));
            }
        }
    }
    if let Some((limit, i)) = by_rcd {
        note(rec, spot, Rule::IaRcd, i, Unit::Ampere, [t.get()]);
        note(
            rec,
            spot,
            Rule::MaxZsRcd,
            limit,
            Unit::Ohm,
            [case.profile.cmin, case.source.u0, i],
        );
    }

    let Some(zs) = case.facts.zs else {
        f.limit = by_device.or(by_rcd).map(|(l, _)| l);
        f.lacking = case.source.lacking_loop;
        if case.facts.protective.is_none() {
            f.lacking |= Lacking::PROTECTIVE;
        }
        rec.finding(&f);
        return;
    };
    match (by_device, by_rcd) {
        (Some((limit, _)), _) if zs <= limit => f = f.against(zs, limit),
        (_, Some((limit, _))) => {
            f.rule = Rule::MaxZsRcd;
            f.assumed |= case.rcd_assumption();
            f = f.against(zs, limit);
        }
        (Some((limit, _)), None) => f = f.against(zs, limit),
        (None, None) => f.lacking = Lacking::CURVE,
    }
    // The limit of the device is known to be passed only where its curve is known at that time.
    if f.outcome == Outcome::Fail && by_device.is_none() {
        f.outcome = Outcome::CannotSay;
        f.lacking |= Lacking::CURVE;
    }
    rec.finding(&f);
}
