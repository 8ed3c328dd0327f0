//! Fuses: BS 88-2, BS 88-3, BS 3036, BS 1361, BS 1362 and any gG fuse to IEC 60269.
//!
//! Each table is a column of ratings and one of currents for each of three times; 0, or a column that ends
//! early, means that no current is known.

use super::{Edge, Family, POINTS, find, point};
use crate::quantity::Amps;

/// The times of the columns, in seconds.
const SLOW: f32 = 5.0;
const MIDDLE: f32 = 0.4;
const QUICK: f32 = 0.1;

struct Table {
    ratings: &'static [f32],
    currents: [&'static [u16]; POINTS],
    /// What the currents are in: so many of them are one ampere.
    parts: u16,
}

/// Amperes as whole numbers of their parts, half of what they would take themselves.
macro_rules! parts {
    ($parts:literal, [$($amps:literal),* $(,)?]) => {
        &[$(const {
            let whole = ($amps * $parts as f32 + 0.5) as u16;
            assert!(whole as f32 / $parts as f32 == $amps);
            whole
        }),*]
    };
}

/// BS 88-2, systems E and G. From memory of BS 7671:2018 Tables 41.2(a) and 41.4(a) and its Appendix 3.
///
/// Support: 0.4 s, 6 to 32 A, by the Zs in print before cmin (8.21, 4.89, 2.56, 1.77, 1.35, 1.04 Ω).
/// All lie inside the gates below, which give the 0.1 s column. 5 s: where two memories differ (4, 6, 10,
/// 20, 32, 100, 160 A) the larger current. 221, where 220 is remembered: 220 gives 1.05 Ω before cmin,
/// 1.04 was in print.
const BS88_2: Table = Table {
    ratings: &[
        2.0, 4.0, 6.0, 10.0, 16.0, 20.0, 25.0, 32.0, 40.0, 50.0, 63.0, 80.0, 100.0, 125.0, 160.0,
        200.0,
    ],
    currents: [
        parts!(
            10,
            [
                5.0, 10.6, 18.2, 32.2, 55.0, 79.0, 100.0, 129.0, 170.0, 221.0, 280.0, 400.0, 550.0,
                690.0, 900.0, 1200.0
            ]
        ),
        parts!(10, [6.6, 14.0, 28.0, 47.0, 90.0, 130.0, 170.0, 221.0]),
        &[],
    ],
    parts: 10,
};

/// BS 88-3, system C. From memory of BS 7671:2018 Tables 41.2(b) and 41.4(b).
///
/// Support: 32 A at 0.4 s by a limit in print (0.72 Ω at 80 %). The currents at 5 s keep to the gates of
/// gG below (80 A by 1 %), so these give the 0.1 s column: of the next rating where there is none.
const BS88_3: Table = Table {
    ratings: &[5.0, 16.0, 20.0, 32.0, 45.0, 63.0, 80.0, 100.0],
    currents: [
        parts!(10, [15.0, 56.0, 68.0, 140.0, 221.0, 320.0, 430.0, 575.0]),
        parts!(10, [22.0, 95.0, 113.0, 240.0]),
        &[],
    ],
    parts: 10,
};

/// BS 3036. From memory of BS 7671:2018 Tables 41.2(c) and 41.4(c) and its Appendix 3.
///
/// Support: 15 A at 0.4 s (90 A) in print; I²t never rises along the curve, except from 0.4 to 0.1 s at 30 A,
/// where the current at 0.1 s is then too large, never too small. 211: by the 1.09 Ω before cmin.
const BS3036: Table = Table {
    ratings: &[5.0, 15.0, 20.0, 30.0, 45.0, 60.0, 100.0],
    currents: [
        parts!(10, [13.0, 43.0, 60.0, 87.0, 145.0, 205.0, 430.0]),
        parts!(10, [24.0, 90.0, 130.0, 211.0]),
        parts!(10, [45.0, 180.0, 260.0, 450.0]),
    ],
    parts: 10,
};

/// BS 1361. From memory of the tables of BS 7671:2008, the last edition that had it.
///
/// Support: I²t falls along the curve. 70.1: by the remembered 3.28 Ω.
const BS1361: Table = Table {
    ratings: &[5.0, 15.0, 20.0, 30.0, 45.0, 60.0, 80.0, 100.0],
    currents: [
        parts!(10, [14.0, 46.0, 82.0, 125.0, 240.0, 330.0, 460.0, 640.0]),
        parts!(10, [22.0, 70.1, 135.0, 200.0]),
        &[],
    ],
    parts: 10,
};

/// BS 1362. From memory of BS 7671:2018 Tables 41.2(d) and 41.4(d). 5 and 10 A are made, without figures.
///
/// Support: I²t falls along the curve.
const BS1362: Table = Table {
    ratings: &[3.0, 5.0, 10.0, 13.0],
    currents: [
        parts!(100, [9.92, 0.0, 0.0, 60.0]),
        parts!(100, [14.0, 0.0, 0.0, 95.0]),
        &[],
    ],
    parts: 100,
};

/// gG: the gates of IEC 60269-1 from 16 A, of IEC 60269-2 below.
///
/// From memory. Support: from 25 A the lower gate at 0.1 s of each rating is the upper of the rating two
/// steps below, as it must be for the selectivity of 1 : 1.6 these fuses have.
struct Gates {
    ratings: &'static [f32],
    /// Imin(10 s): it stays whole for 10 s.
    min_10: &'static [f32],
    /// Imax(5 s): it has operated within 5 s. In tenths of an ampere.
    max_5: &'static [u16],
    /// Imin(0.1 s).
    min_01: &'static [f32],
    /// Imax(0.1 s). In fifths of an ampere.
    max_01: &'static [u16],
}

const GATES: Gates = Gates {
    ratings: &[
        2.0, 4.0, 6.0, 8.0, 10.0, 12.0, 16.0, 20.0, 25.0, 32.0, 40.0, 50.0, 63.0, 80.0, 100.0,
        125.0, 160.0, 200.0, 250.0, 315.0, 400.0,
    ],
    min_10: &[
        3.7, 7.8, 11.0, 16.0, 22.0, 24.0, 33.0, 42.0, 52.0, 75.0, 95.0, 125.0, 160.0, 215.0, 290.0,
        355.0, 460.0, 610.0, 750.0, 1050.0, 1420.0,
    ],
    max_5: parts!(
        10,
        [
            9.2, 18.5, 28.0, 35.2, 46.5, 55.2, 65.0, 85.0, 110.0, 150.0, 190.0, 250.0, 320.0,
            425.0, 580.0, 715.0, 950.0, 1250.0, 1650.0, 2200.0, 2840.0
        ]
    ),
    min_01: &[
        6.0, 14.0, 26.0, 41.6, 58.0, 69.6, 85.0, 110.0, 150.0, 200.0, 260.0, 350.0, 450.0, 610.0,
        820.0, 1100.0, 1450.0, 1910.0, 2590.0, 3420.0, 4500.0,
    ],
    max_01: parts!(
        5,
        [
            23.0, 47.0, 72.0, 92.0, 110.0, 140.4, 150.0, 200.0, 260.0, 350.0, 450.0, 610.0, 820.0,
            1100.0, 1450.0, 1910.0, 2590.0, 3420.0, 4500.0, 6000.0, 8060.0
        ]
    ),
};

/// `None` for gG, which has gates instead, for families that are no fuses, and for those that were left out.
const fn table(family: Family) -> Option<&'static Table> {
    match family {
        Family::Bs88_2 if cfg!(feature = "bs88-2") => Some(&BS88_2),
        Family::Bs88_3 if cfg!(feature = "bs88-3") => Some(&BS88_3),
        Family::Bs3036 if cfg!(feature = "bs3036") => Some(&BS3036),
        Family::Bs1361 if cfg!(feature = "bs1361") => Some(&BS1361),
        Family::Bs1362 if cfg!(feature = "bs1362") => Some(&BS1362),
        _ => None,
    }
}

/// Any fuse at all.
pub(super) const ANY: bool = cfg!(any(
    feature = "bs88-2",
    feature = "bs88-3",
    feature = "bs3036",
    feature = "bs1361",
    feature = "bs1362",
    feature = "gg"
));

pub(super) const fn ratings(family: Family) -> &'static [f32] {
    match table(family) {
        Some(t) => t.ratings,
        None if matches!(family, Family::Gg) && cfg!(feature = "gg") => GATES.ratings,
        None => &[],
    }
}

/// See [`super::Device::breaking`]. IEC 60269 leaves it to the fuse system, so gG has none.
pub(super) const fn fixed_capacity(family: Family) -> Option<Amps> {
    match family {
        Family::Bs88_2 => Some(Amps::raw(50_000.0)),
        Family::Bs88_3 => Some(Amps::raw(16_000.0)),
        Family::Bs1361 => Some(Amps::raw(16_500.0)),
        Family::Bs1362 => Some(Amps::raw(6_000.0)),
        _ => None,
    }
}

pub(super) fn edge(family: Family, rating: f32) -> Edge {
    let at = |row: Option<usize>, column: &'static [u16], parts: u16| -> f32 {
        let whole = row.and_then(|n| column.get(n)).copied().unwrap_or(0);
        f32::from(whole) / f32::from(parts)
    };
    let [slow, middle, quick] = if let Some(t) = table(family) {
        let row = find(t.ratings, rating);
        let [slow, middle, quick] = t.currents.map(|column| at(row, column, t.parts));
        let quick = if cfg!(any(feature = "bs88-2", feature = "bs88-3"))
            && matches!(family, Family::Bs88_2 | Family::Bs88_3)
        {
            let gate = GATES.ratings.iter().position(|r| *r >= rating);
            at(gate, GATES.max_01, 5)
        } else {
            quick
        };
        [slow, middle, quick]
    } else if ANY && cfg!(feature = "gg") {
        let row = find(GATES.ratings, rating);
        [at(row, GATES.max_5, 10), 0.0, at(row, GATES.max_01, 5)]
    } else {
        [0.0; POINTS]
    };
    Edge::without_gaps([
        point(slow, SLOW),
        point(middle, MIDDLE),
        point(quick, QUICK),
    ])
}

/// The lower gates, of gG and BS 88-2: Imin(10 s) and Imin(0.1 s), in amperes and seconds.
pub(super) fn gates(family: Family, rating: f32) -> Option<[(f32, f32); 2]> {
    if !cfg!(any(feature = "gg", feature = "bs88-2"))
        || !matches!(family, Family::Gg | Family::Bs88_2)
    {
        return None;
    }
    let row = find(GATES.ratings, rating)?;
    Some([
        (*GATES.min_10.get(row)?, 10.0),
        (*GATES.min_01.get(row)?, 0.1),
    ])
}

/// gG and BS 88-2 by the lower gates; for the others no lower edge is known.
///
/// Up to Imin(10 s) at least 10 s. From there to Imin(0.1 s) only I²t is bounded: it falls as the current
/// rises, so it is at least that of the gate at 0.1 s. The gates are of the time before arcing.
pub(super) fn earliest(family: Family, rating: f32, i: f32) -> Option<f32> {
    let [(min_10, long), (min_01, short)] = gates(family, rating)?;
    if i <= min_10 {
        Some(long)
    } else if i <= min_01 {
        let ratio = min_01 / i;
        Some(short * ratio * ratio)
    } else {
        None
    }
}
