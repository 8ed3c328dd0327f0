//! Disconnection in time: BS 7671 411.4 (TN) and 411.5 (TT), IEC 60364-4-41 (from memory).
//!
//! The device disconnects in time where Zs ≤ cmin·U0/Ia; an RCD where the fault current reaches the
//! multiple of IΔn for which its standard gives a time short enough, Zs ≤ cmin·U0/IΔ. Either is enough. The design
//! rests on the device wherever that disconnects in time, and on the RCD only where it does not.

use super::{Case, finding, finite, outwards};
use crate::device::{Edge, Known, Rcd};
use crate::error::Error;
use crate::facts::note;
use crate::network::{Circuit, Use};
use crate::profile::{Profile, SHORT_TIME_FIXED, SHORT_TIME_SOCKETS, long_time, short_time};
use crate::quantity::{Amps, Seconds, Volts};
use crate::source::Source;
use crate::supply::Earthing;
use crate::verdict::{Check, Lacking, Outcome, Recorder, Rule, Sense, Topic, Unit};

/// The longest disconnection time of a circuit: [`short_time`] for sockets up to [`SHORT_TIME_SOCKETS`] and other
/// final circuits up to [`SHORT_TIME_FIXED`] (IEC 60364-4-41, 411.3.2.2, from memory), else [`long_time`].
///
/// # Errors
/// As [`short_time`].
pub fn time_allowed(
    earthing: Earthing,
    u0: Volts,
    purpose: Use,
    rating: Amps,
) -> Result<Seconds, Error> {
    let short = short_time(earthing, u0)?;
    let is_short = match purpose {
        Use::Distribution => false,
        Use::Sockets => rating.get() <= SHORT_TIME_SOCKETS,
        Use::Lighting | Use::Fixed => rating.get() <= SHORT_TIME_FIXED,
    };
    Ok(if is_short { short } else { long_time(earthing) })
}

/// Largest loop impedances of a circuit, each with the current it gives.
pub(crate) struct Limits {
    /// The time allowed.
    pub time: Seconds,
    /// By the overcurrent device: cmin·U0/Ia, and Ia; none where its curve has no point there.
    pub device: Option<(f32, f32)>,
    /// By the best of the RCDs.
    pub rcd: Option<(f32, f32)>,
}

impl Limits {
    /// For a time, by the current of the overcurrent device, where it has one there.
    pub fn of_device(profile: &Profile, u0: f32, time: Seconds, ia: Option<Amps>) -> Self {
        let device = ia.map(|ia| (profile.cmin * u0 / ia.get(), ia.get()));
        Self {
            time,
            device,
            rcd: None,
        }
    }

    /// By the best of these RCDs too.
    pub fn with(mut self, profile: &Profile, u0: f32, rcds: &[Option<Rcd>]) -> Self {
        for r in rcds.iter().flatten() {
            if let Known::Value(i) = r.disconnecting_current(self.time) {
                let limit = profile.cmin * u0 / i.get();
                if self.rcd.is_none_or(|(l, _)| limit > l) {
                    self.rcd = Some((limit, i.get()));
                }
            }
        }
        self
    }

    /// Whether the device disconnects in time with this Zs.
    fn by_device(&self, zs: f32) -> bool {
        self.device
            .is_some_and(|(limit, _)| outwards(Sense::AtMost, zs) <= limit)
    }

    /// The limit a circuit with this Zs rests on, and whether it is the RCD's: the device's where Zs is within it,
    /// the RCD's where that is not so and allows more. Where Zs is not known it is the device's, and the RCD's in TT.
    pub fn rests_on(&self, zs: Option<f32>, earthing: Earthing) -> Option<(f32, bool)> {
        let by_device = match zs {
            Some(zs) => self.by_device(zs),
            None => earthing != Earthing::Tt,
        };
        match (self.device, self.rcd) {
            (Some((d, _)), _) if by_device => Some((d, false)),
            (Some((d, _)), Some((r, _))) if r > d => Some((r, true)),
            (Some((d, _)), _) => Some((d, false)),
            (None, Some((r, _))) => Some((r, true)),
            (None, None) => None,
        }
    }
}

/// The limits of the device alone; none where the voltage has no time.
fn of_device(profile: &Profile, source: &Source, circuit: &Circuit, edge: &Edge) -> Option<Limits> {
    let time = time_allowed(
        source.earthing,
        Volts::raw(source.u0),
        circuit.purpose,
        circuit.device.rating(),
    )
    .ok()?;
    let ia = circuit.device.disconnecting_by(edge, time).value();
    Some(Limits::of_device(profile, source.u0, time, ia))
}

/// The limits the check holds Zs against; none where the voltage has no time.
pub(crate) fn limits(profile: &Profile, source: &Source, circuit: &Circuit) -> Option<Limits> {
    let limits = of_device(profile, source, circuit, &circuit.device.edge())?;
    Some(limits.with(profile, source.u0, &[circuit.rcd, source.rcd]))
}

pub(crate) fn check<R: Recorder + ?Sized>(case: &Case<'_>, rec: &mut R) {
    let mut f = finding(
        case.place,
        Check::Disconnection,
        Rule::MaxZs,
        Unit::Ohm,
        Sense::AtMost,
    );
    f.assumed = case.here.source.assumed_loop;
    f.value = case.facts.zs.and_then(finite);
    let spot = case.spot(Topic::Disconnection);
    let (profile, source) = (case.here.profile, case.here.source);
    let Some(mut limits) = of_device(profile, source, case.circuit, case.edge) else {
        f.lacking = Lacking::LIMIT;
        rec.finding(&f);
        return;
    };
    // Where the device does, the RCDs are not asked, but for the record.
    if rec.wants_steps() || !case.facts.zs.is_some_and(|zs| limits.by_device(zs)) {
        limits = limits.with(profile, source.u0, &[case.circuit.rcd, source.rcd]);
    }
    let t = limits.time;
    note(
        rec,
        spot,
        Rule::TimeAllowed,
        t.get(),
        Unit::Second,
        [case.here.source.u0],
    );

    let (by_device, by_rcd) = (limits.device, limits.rcd);
    if let Some((limit, ia)) = by_device {
        note(rec, spot, Rule::Ia, ia, Unit::Ampere, [t.get()]);
        note(
            rec,
            spot,
            Rule::MaxZs,
            limit,
            Unit::Ohm,
            [case.here.profile.cmin, case.here.source.u0, ia],
        );
    }
    if let Some((limit, i)) = by_rcd {
        note(rec, spot, Rule::IaRcd, i, Unit::Ampere, [t.get()]);
        note(
            rec,
            spot,
            Rule::MaxZsRcd,
            limit,
            Unit::Ohm,
            [case.here.profile.cmin, case.here.source.u0, i],
        );
    }

    let rests_on = limits.rests_on(case.facts.zs, case.here.source.earthing);
    if let Some((_, true)) = rests_on {
        f.rule = Rule::MaxZsRcd;
    }
    let Some(zs) = case.facts.zs else {
        f.limit = rests_on.and_then(|(l, _)| finite(l));
        f.lacking = case.here.source.lacking_loop;
        if case.facts.protective.is_none() {
            f.lacking |= Lacking::PROTECTIVE;
        }
        rec.finding(&f);
        return;
    };
    match rests_on {
        Some((limit, by_rcd)) => {
            if by_rcd {
                f.assumed |= case.rcd_assumption();
            }
            f.hold_worked(zs, limit);
        }
        None => f.lacking = Lacking::CURVE,
    }
    // The limit of the device is known to be passed only where its curve is known at that time.
    if f.outcome == Outcome::Fail && by_device.is_none() {
        f.outcome = Outcome::CannotSay;
        f.lacking |= Lacking::CURVE;
    }
    rec.finding(&f);
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::device::{RcdDelay, RcdType};

    /// BS 7671 411.3.2.2: 63 A with socket-outlets, 32 A with fixed loads only; 0.4 s in TN, 0.2 s in TT at 230 V.
    #[test]
    fn short_times_are_for_final_circuits_up_to_their_rating() {
        let t = |earthing, purpose, rating: f32| {
            time_allowed(earthing, Volts::raw(230.0), purpose, Amps::raw(rating))
                .unwrap()
                .get()
        };
        for (earthing, short, long) in [
            (Earthing::TnS, 0.4, 5.0),
            (Earthing::TnCS, 0.4, 5.0),
            (Earthing::Tt, 0.2, 1.0),
        ] {
            for (purpose, most) in [
                (Use::Sockets, 63.0),
                (Use::Lighting, 32.0),
                (Use::Fixed, 32.0),
            ] {
                assert_eq!(t(earthing, purpose, 6.0), short);
                assert_eq!(t(earthing, purpose, most), short);
                assert_eq!(t(earthing, purpose, most + 1.0), long);
            }
            assert_eq!(t(earthing, Use::Distribution, 6.0), long);
        }
    }

    #[test]
    fn the_device_counts_wherever_it_does() {
        let of = |device, rcd, zs, earthing| {
            let limits = Limits {
                time: Seconds::raw(0.4),
                device: Option::map(device, |l| (l, 1.0)),
                rcd: Option::map(rcd, |l| (l, 1.0)),
            };
            limits.rests_on(zs, earthing)
        };
        let (tn, tt) = (Earthing::TnCS, Earthing::Tt);
        let (one, most) = (Some(1.0), Some(1000.0));
        for (device, rcd, zs, earthing, rests) in [
            (one, most, Some(0.5), tn, Some((1.0, false))),
            (one, most, Some(2.0), tn, Some((1000.0, true))),
            // No better, no RCD.
            (one, one, Some(2.0), tn, Some((1.0, false))),
            (one, Some(0.5), Some(2.0), tn, Some((1.0, false))),
            (one, None, Some(2.0), tn, Some((1.0, false))),
            (None, most, Some(2.0), tn, Some((1000.0, true))),
            (None, None, Some(2.0), tn, None),
            // Before anything is known of the loop: the device, but of an electrode the RCD.
            (one, most, None, tn, Some((1.0, false))),
            (one, most, None, tt, Some((1000.0, true))),
            // The limit itself is a hair too much.
            (one, most, Some(1.0), tn, Some((1000.0, true))),
        ] {
            assert_eq!(
                of(device, rcd, zs, earthing),
                rests,
                "{device:?} {rcd:?} {zs:?}"
            );
        }
    }

    #[test]
    fn of_several_rcds_the_one_with_the_largest_limit() {
        let rcd = |i: f32| Rcd::new(Amps::raw(i), RcdType::A, RcdDelay::None).ok();
        let of = |rcds: &[Option<Rcd>]| {
            let profile = Profile::IEC;
            let none = Limits::of_device(&profile, 230.0, Seconds::raw(0.4), None);
            none.with(&profile, 230.0, rcds).rcd
        };
        let best = of(&[rcd(0.03)]);
        assert!(best.is_some() && best > of(&[rcd(0.1)]));
        for all in [
            [rcd(0.03), rcd(0.1)],
            [rcd(0.1), rcd(0.03)],
            [rcd(0.03), None],
        ] {
            assert_eq!(of(&all), best);
        }
        assert_eq!(of(&[None, None]), None);
    }
}
