//! Laws of scale. Twice is exact in f32, so these hold to the bit.

use crate::any::{FAMILIES, House, amps, between, device, house};
use crate::{Seen, config, readings};
use faultpath::device::{Device, max_zs};
use faultpath::network::{Demand, Part, Shape};
use faultpath::profile::Profile;
use faultpath::quantity::{Amps, Metres, Ratio, Seconds, Volts, Watts};
use faultpath::supply::Phases;
use proptest::prelude::*;

fn twice(one: Option<f32>) -> Option<f32> {
    one.map(|v| 2.0 * v)
}

proptest! {
    #![proptest_config(config())]

    /// All cables twice as long: twice the drop, twice R1+R2.
    #[test]
    fn drop_and_r1r2_are_linear_in_length(house in house()) {
        let one: House = house;
        let mut two = one.clone();
        for c in &mut two.circuits {
            for s in &mut c.sections {
                s.length = Metres::new(2.0 * s.length.get()).unwrap();
            }
        }
        for earthing in readings(&one) {
            let (_, a) = Seen::of(&one, *earthing);
            let (_, b) = Seen::of(&two, *earthing);
            for (id, a) in &a.circuits {
                let b = &b.circuits[id];
                prop_assert_eq!(twice(a.drop_full), b.drop_full);
                prop_assert_eq!(twice(a.drop_load), b.drop_load);
                // Which of two spurs has the greater loop may change with their lengths.
                if one.circuits[usize::from(*id)].sections.len() < 3 {
                    prop_assert_eq!(twice(a.r1r2_cold), b.r1r2_cold);
                }
            }
        }
    }

    /// All loads twice as large, without diversity: twice the drop, but for spurs, which carry what their
    /// fuse or socket takes.
    #[test]
    fn drop_is_linear_in_current(house in house()) {
        let mut one: House = house;
        one.profile = Profile { drop_basis: one.profile.drop_basis, ..Profile::IEC };
        for b in &mut one.boards {
            b.demand = b.demand.map(|i| amps(i.get()));
        }
        for c in &mut one.circuits {
            for s in &mut c.sections {
                s.part = Part::Run;
                s.spur_fuse = None;
            }
        }
        let mut two = one.clone();
        for b in &mut two.boards {
            b.demand = b.demand.map(|i| amps(2.0 * i.get()));
        }
        for c in &mut two.circuits {
            c.load.demand = match c.load.demand {
                Demand::Current(i) => Demand::Current(Amps::new(2.0 * i.get()).unwrap()),
                Demand::Power(p) => Demand::Power(Watts::new(2.0 * p.get()).unwrap()),
                Demand::Derived | Demand::NotKnown => c.load.demand,
            };
        }
        for earthing in readings(&one) {
            let (_, a) = Seen::of(&one, *earthing);
            let (_, b) = Seen::of(&two, *earthing);
            for (id, a) in &a.circuits {
                let b = &b.circuits[id];
                prop_assert_eq!(twice(a.ib), b.ib);
                prop_assert_eq!(twice(a.drop_full), b.drop_full);
                // Warmer conductors: more than twice, but for the last bits, as temperatures are not doubled. Not so
                // of a lightly loaded line of three, which the neutral's current may lift, nor of a ring, whose
                // sides share the current anew.
                let radial = one.circuits[usize::from(*id)].shape == Shape::Radial;
                if one.supply.phases == Phases::Single && radial {
                    prop_assert!(b.drop_load >= a.drop_load.map(|v| 2.0 * v * (1.0 - 1e-5)));
                }
            }
        }
    }

    /// Zs without anything outside: all lengths twice, twice the loop.
    #[test]
    fn max_zs_is_linear_in_u0(device in device(), t in between(0.05, 10.0), u0 in between(10.0, 1000.0), cmin in between(0.5, 1.0)) {
        let t = Seconds::new(t).unwrap();
        let cmin = Ratio::new(cmin).unwrap();
        let of = |u0: f32| max_zs(&device, t, Volts::new(u0).unwrap(), cmin).value().map(|z| z.get());
        prop_assert_eq!(twice(of(u0)), of(2.0 * u0));
    }

    /// More time is never a smaller limit, whatever the device.
    #[test]
    fn max_zs_rises_with_time(which in 0..FAMILIES.len(), rating in any::<prop::sample::Index>(), t in between(0.01, 10.0), more in between(1.0, 50.0)) {
        let family = FAMILIES[which];
        let device = Device::new(family, amps(*rating.get(Device::ratings(family)))).unwrap();
        let of = |t: f32| {
            max_zs(&device, Seconds::new(t).unwrap(), Volts::new(230.0).unwrap(), Ratio::new(0.95).unwrap())
                .value()
                .map(|z| z.get())
        };
        if let (Some(short), Some(long)) = (of(t), of(t * more)) {
            prop_assert!(long >= short);
        }
    }
}
