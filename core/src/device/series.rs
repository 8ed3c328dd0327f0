//! Two overcurrent devices in series: which goes first at a current that flows through both, by the bands their
//! standards print.
//!
//! Nothing more is printed: what happens faster than 0.1 s is decided by let-through energies, of which makers
//! publish tables and standards do not; then it is [`Order::TooQuick`]. No standard of breakers, BS 88-3, BS 3036,
//! BS 1361 or BS 1362 says how long a device surely holds at each current beyond what [`Device::early_edge`] has.

use super::{Device, Known, POINTS, Point};
use crate::quantity::{Amps, Seconds};
use heapless::Vec;

/// Which of two devices in series goes first.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Order {
    /// The one nearer the load has surely disconnected before the other surely can.
    LoadSideFirst,
    /// Either may: the bands overlap.
    Either,
    /// The one nearer the supply surely goes first.
    SupplySideFirst,
    /// Both may act in less than 0.1 s, for which no standard prints a curve.
    TooQuick,
    /// No lower edge of the band of the one nearer the supply is published.
    NoLowerEdge,
    /// It is not certain that the one nearer the load disconnects at all: too small a current for its curve, or more
    /// than it can break.
    NotCertain,
}

crate::list::listed! {
    Order: LoadSideFirst Either SupplySideFirst TooQuick NoLowerEdge NotCertain
}

/// The shortest time of any curve.
const SHORTEST: Seconds = Seconds::raw(0.1);

/// The order at one current.
///
/// ```
/// use faultpath::device::{Curve, Device, Family, Order, order};
/// use faultpath::quantity::Amps;
/// let amps = |i| Amps::new(i).unwrap();
/// let supply = Device::new(Family::Gg, amps(63.0)).unwrap();
/// let load = Device::new(Family::Breaker(Curve::B), amps(16.0)).unwrap();
/// assert_eq!(order(&supply, &load, amps(200.0)), Order::LoadSideFirst);
/// assert_eq!(order(&supply, &load, amps(1000.0)), Order::TooQuick);
/// ```
#[must_use]
pub fn order(supply_side: &Device, load_side: &Device, i: Amps) -> Order {
    let Known::Value(load) = load_side.time(i) else {
        return Order::NotCertain;
    };
    let holds = supply_side.earliest(i);
    if holds.is_some_and(|t| load.latest <= t) {
        return Order::LoadSideFirst;
    }
    if let (Known::Value(supply), Some(t)) = (supply_side.time(i), load.earliest) {
        if supply.latest <= t {
            return Order::SupplySideFirst;
        }
    }
    if holds.is_some() || load.latest > SHORTEST && supply_side.early_edge().next().is_some() {
        Order::Either
    } else if supply_side.early_edge().next().is_some() {
        Order::TooQuick
    } else {
        Order::NoLowerEdge
    }
}

/// Tells the order for all currents from `from` to `to`, in stretches of one order each, by rising current.
///
/// Both edges are straight in log I, log t between their corners, so within a piece between two corners each order
/// holds for one stretch; its end is found by halving, to the next `f32`.
pub fn orders(
    supply_side: &Device,
    load_side: &Device,
    from: Amps,
    to: Amps,
    mut tell: impl FnMut(Amps, Amps, Order),
) {
    // Where an edge bends, and where what a device can break ends.
    let mut bends: Vec<f32, { 2 * (POINTS + 3 + 1) + 1 }> = Vec::new();
    for device in [supply_side, load_side] {
        let corners = device.points().map(|p| p.current);
        let early = device.early_edge().map(|p| p.current);
        for bend in corners.chain(early).chain(device.breaking()) {
            // Room for all there are.
            let _ = bends.push(bend.get());
        }
    }
    let _ = bends.push(to.get());
    bends.sort_unstable_by(f32::total_cmp);
    let at = |i: f32| order(supply_side, load_side, Amps::raw(i));
    let mut open: Option<(f32, Order)> = None;
    let mut begin = from.get();
    let mut told = |first: f32, last: f32, order: Order| {
        match open {
            Some((_, same)) if same == order => {}
            Some((start, other)) => {
                tell(Amps::raw(start), Amps::raw(first), other);
                open = Some((first, order));
            }
            None => open = Some((first, order)),
        }
        if last >= to.get() {
            if let Some((start, order)) = open.take() {
                tell(Amps::raw(start), Amps::raw(last), order);
            }
        }
    };
    for bend in bends {
        let end = bend.min(to.get());
        if end <= begin {
            continue;
        }
        // The bend itself belongs to either side, so inside of both.
        let (mut low, high) = (begin.next_up(), end.next_down());
        let last = at(high);
        while low < high {
            let here = at(low);
            if here == last {
                break;
            }
            let (mut good, mut bad) = (low, high);
            for _ in 0..40 {
                let middle = 0.5 * (good + bad);
                if middle <= good || middle >= bad {
                    break;
                }
                if at(middle) == here {
                    good = middle;
                } else {
                    bad = middle;
                }
            }
            told(begin, good, here);
            begin = good;
            low = bad;
        }
        told(begin, end, last);
        begin = end;
    }
}

impl Device {
    /// The time it surely holds at `i`, where a standard says so; see [`Band::earliest`](super::Band::earliest).
    #[must_use]
    pub fn earliest(&self, i: Amps) -> Option<Seconds> {
        let (rating, i) = (self.rating.get(), i.get());
        let t = match self.family {
            super::Family::Breaker(c) | super::Family::Rcbo(c) => {
                super::breaker::earliest(c, rating, i)
            }
            _ => super::fuse::earliest(self.family, rating, i),
        };
        t.map(Seconds::raw)
    }

    /// The corners of the lower edge of its band, by rising current: [`earliest`](Self::earliest) is straight in
    /// log I, log t between them, and holds upwards to the first of them. None where no edge is published.
    pub fn early_edge(&self) -> impl Iterator<Item = Point> {
        let at = |current: f32, time: f32| Point {
            current: Amps::raw(current),
            time: Seconds::raw(time),
        };
        let rating = self.rating.get();
        let corners = match self.family {
            super::Family::Breaker(c) | super::Family::Rcbo(c) => {
                let [(long, t), (short, quick)] = super::breaker::holds(c, rating);
                [
                    Some(at(long, t)),
                    Some(at(long, quick)),
                    Some(at(short, quick)),
                ]
            }
            _ => match super::fuse::gates(self.family, rating) {
                Some([(long, t), (short, quick)]) => {
                    let ratio = short / long;
                    [
                        Some(at(long, t)),
                        Some(at(long, quick * ratio * ratio)),
                        Some(at(short, quick)),
                    ]
                }
                None => [None; 3],
            },
        };
        corners.into_iter().flatten()
    }

    /// The corners of the upper edge of its band, by rising current: the published points, and between those of
    /// devices whose times hold as steps the corners of the steps.
    pub fn late_edge(&self) -> impl Iterator<Item = Point> {
        let mut before: Option<Point> = None;
        let steps = self.steps();
        self.points().flat_map(move |p| {
            let corner = before.filter(|_| steps).map(|b| Point {
                current: p.current,
                time: b.time,
            });
            before = Some(p);
            [corner, Some(p)].into_iter().flatten()
        })
    }
}
