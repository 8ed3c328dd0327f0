//! The same checks of [`sub_main`](crate::sub_main::sub_main) as bare arithmetic: every figure of a table in hand,
//! nothing looked up, nothing asked that is known of this installation, nothing told but values and limits.
//!
//! It is what a check costs at the least, and no design of a library. The formulas are those of core, in their order
//! and as often, so that its results are core's to the bit, which a test holds; so it is neither too slow nor wrong.

use libm::{log1pf, roundf, sqrtf};

/// What a value and its limit are told to: the good side is at most the limit, or at least.
pub trait Told {
    /// A check came out.
    fn at_most(&mut self, value: f32, limit: f32);
    /// The same, the other way round.
    fn at_least(&mut self, value: f32, limit: f32) {
        self.at_most(limit, value);
    }
    /// A check that compares nothing: the line conductor of an overload device that breaks the fault.
    fn deemed(&mut self) {}
}

/// Resistance and reactance.
#[derive(Clone, Copy, Default)]
struct Z(f32, f32);

impl Z {
    fn plus(self, o: Z) -> Z {
        Z(self.0 + o.0, self.1 + o.1)
    }
    fn magnitude(self) -> f32 {
        if self.1 == 0.0 {
            return self.0;
        }
        sqrtf(self.0 * self.0 + self.1 * self.1)
    }
}

/// A supply's impedance of known angle and something behind it.
fn behind(magnitude: f32, z: Z) -> f32 {
    let r = magnitude / sqrtf(1.0 + X_OVER_R * X_OVER_R);
    Z(r, r * X_OVER_R).plus(z).magnitude()
}

const U0: f32 = 230.0;
const CMIN: f32 = 0.95;
const CMAX: f32 = 1.1;
const ZE: f32 = 0.25;
const X_OVER_R: f32 = 0.3;
const LEVEL: f32 = 1500.0;
/// β, Qc, ρ20, K as printed, α: copper and steel.
const COPPER: [f32; 5] = [234.5, 3.45e-3, 17.241e-6, 226.0, 0.004];
const STEEL: [f32; 5] = [202.0, 3.8e-3, 138e-6, 78.0, 0.0045];

fn warmed([beta, .., alpha]: [f32; 5], theta: f32) -> f32 {
    (1.0 + alpha * (theta - 20.0)).max((beta + theta) / (beta + 20.0))
}

fn k([beta, heat, rho, printed, _]: [f32; 5], first: f32, last: f32) -> f32 {
    let exact = sqrtf(heat * (beta + 20.0) / rho);
    exact.min(printed) * sqrtf(log1pf((last - first) / (beta + first)))
}

/// What rounding may have taken from a figure that was worked out, on its worse side.
const HAIR: f32 = 2e-6;

fn most(v: f32) -> f32 {
    v + HAIR * v.abs()
}

fn least(v: f32) -> f32 {
    v - HAIR * v.abs()
}

/// S = √(I²t)/k.
fn needed(energy: f32, k: f32) -> f32 {
    sqrtf(energy) / k
}

/// One length of flat twin: r of its line and protective conductor, areas, capacity as tabulated.
#[derive(Clone, Copy)]
struct Twin {
    length: f32,
    r: f32,
    r_protective: f32,
    area: f32,
    protective: f32,
    it: f32,
}

const fn twin(
    length: f32,
    [area, r]: [f32; 2],
    [protective, r_protective]: [f32; 2],
    it: f32,
) -> Twin {
    Twin {
        length,
        r,
        r_protective,
        area,
        protective,
        it,
    }
}

const ONE: [f32; 2] = [1.0, 18.1];
const ONE_5: [f32; 2] = [1.5, 12.1];
const TWO_5: [f32; 2] = [2.5, 7.41];
const SIX: [f32; 2] = [6.0, 3.08];

/// A circuit on an RCBO of type B of 30 mA.
#[derive(Clone, Copy)]
struct Final {
    rating: f32,
    ib: f32,
    points: u8,
    drop: f32,
    first: Twin,
    /// What is behind the first length; of a ring its spur.
    second: Option<Twin>,
    ring: bool,
}

/// What hangs on the board, and the class of its load in [`DIVERSITY`].
fn circuit(n: usize) -> (Final, usize) {
    let plain = |rating, ib, first| Final {
        rating,
        ib,
        points: 1,
        drop: 0.05,
        first,
        second: None,
        ring: false,
    };
    let turn = n % 12;
    match turn {
        0..4 => {
            let mut lights = plain(6.0, 3.0, twin(12.0 + turn as f32, ONE_5, ONE, 20.0));
            lights.second = Some(twin(9.0, ONE, ONE, 13.0));
            (lights.points, lights.drop) = (8, 0.03);
            (lights, 0)
        }
        4 | 5 => {
            let mut ring = plain(32.0, 14.0, twin(41.0 + turn as f32, TWO_5, ONE_5, 27.0));
            ring.second = Some(twin(6.0, TWO_5, ONE_5, 27.0));
            ring.ring = true;
            (ring, 3)
        }
        6..9 => (
            plain(16.0, 6.0, twin(9.0 + turn as f32, TWO_5, ONE_5, 27.0)),
            3,
        ),
        9 | 10 => (
            plain(16.0, 5.0, twin(9.0 + turn as f32, TWO_5, ONE_5, 27.0)),
            1,
        ),
        _ => (plain(32.0, 30.0, twin(14.0, SIX, TWO_5, 47.0)), 2),
    }
}

/// Lighting, heating, cooking, sockets: the first amperes, share of these and of the rest, more, shares by rank.
const DIVERSITY: [[f32; 7]; 4] = [
    [0.0, 0.66, 0.66, 0.0, 1.0, 1.0, 1.0],
    [10.0, 1.0, 0.5, 0.0, 1.0, 1.0, 1.0],
    [10.0, 1.0, 0.3, 5.0, 1.0, 1.0, 1.0],
    [0.0, 1.0, 1.0, 0.0, 1.0, 0.4, 0.4],
];

/// Current with its active and reactive part.
type Flow = [f32; 3];

fn flow(i: f32, cos: f32) -> Flow {
    let sin = sqrtf((1.0 - cos * cos).max(0.0));
    [i, i * cos, i * sin]
}

fn plus(a: Flow, b: Flow, times: f32) -> Flow {
    [
        a[0] + times * b[0],
        a[1] + times * b[1],
        a[2] + times * b[2],
    ]
}

/// The installation as figures.
pub struct Figures {
    circuits: Vec<(Final, usize)>,
}

/// With so many circuits on the board.
#[must_use]
pub fn figures(circuits: usize) -> Figures {
    Figures {
        circuits: (0..circuits).map(circuit).collect(),
    }
}

/// All upstream of the board.
struct Upstream {
    /// Hot: line and protective conductor of the feed together.
    hot: Z,
    /// Cold, r alone: line, neutral, protective conductor.
    line: f32,
    neutral: f32,
    protective: f32,
    /// The supply's smallest.
    least: f32,
    drop: [f32; 2],
}

/// Every check.
pub fn check(figures: &Figures, told: &mut impl Told) {
    // What it all takes, with diversity.
    let mut ranks = [[Flow::default(); 3]; 4];
    for (c, class) in &figures.circuits {
        let [from, first, rest, add, ..] = DIVERSITY[*class];
        let own = flow(c.ib, 1.0);
        let above = own[0] - from;
        let counted = if above > 0.0 {
            first * from + rest * above + add
        } else {
            first * own[0] + add
        };
        let scale = counted / own[0];
        let mut own = [counted, scale * own[1], scale * own[2]];
        let [largest, second, others] = &mut ranks[*class];
        if own[0] > largest[0] {
            std::mem::swap(&mut own, largest);
        }
        if own[0] > second[0] {
            std::mem::swap(&mut own, second);
        }
        *others = plus(*others, own, 1.0);
    }
    let mut demand = Flow::default();
    for ([largest, second, others], shares) in ranks.iter().zip(DIVERSITY) {
        demand = plus(demand, *largest, shares[4]);
        demand = plus(demand, *second, shares[5]);
        demand = plus(demand, *others, shares[6]);
    }

    // The supply: demand, breaking capacity, earthing conductor by 25 mm² of line, bonding by 35 mm² of neutral.
    told.at_most(demand[0], 100.0);
    told.at_most(LEVEL, 16_000.0);
    told.at_least(
        16.0,
        16.0 * (k(COPPER, 30.0, 160.0) / k(COPPER, 30.0, 160.0)),
    );
    told.at_least(10.0, 10.0);

    let upstream = feed(demand, told);
    told.at_most(demand[0], 80.0);
    for (c, _) in &figures.circuits {
        final_circuit(c, &upstream, told);
    }
}

fn exp(x: f32) -> f32 {
    const TERMS: [f32; 9] = [
        1.0 / 40320.0,
        1.0 / 5040.0,
        1.0 / 720.0,
        1.0 / 120.0,
        1.0 / 24.0,
        1.0 / 6.0,
        1.0 / 2.0,
        1.0,
        1.0,
    ];
    let twos = (x * std::f32::consts::LOG2_E) as i32;
    let r = x - twos as f32 * 0.693_145_75 - twos as f32 * 1.428_606_8e-6;
    let power = TERMS.iter().fold(0.0, |sum, term| sum * r + term);
    power * f32::from_bits(((127 + twos) as u32) << 23)
}

/// Let-through of an 80 A fuse to BS 88-3, by its two points.
fn fuse(i: f32) -> f32 {
    let (slow, quick) = ((430.0, 5.0), (1100.0, 0.1));
    if i < quick.0 {
        let log = |to: f32, from: f32| log1pf((to - from) / from);
        let at = log(i, slow.0) / log(quick.0, slow.0);
        let t = (slow.1 * exp(log(quick.1, slow.1) * at) * (1.0 + HAIR))
            .max(quick.1)
            .min(slow.1);
        return i * i * t;
    }
    quick.0 * quick.0 * quick.1
}

/// The greatest of it between two currents.
fn fuse_worst(low: f32, high: f32) -> f32 {
    let mut worst = fuse(low).max(fuse(high));
    for (i, t) in [(430.0, 5.0), (1100.0, 0.1)] {
        if i > low && i <= high {
            worst = worst.max(i * i * t);
        }
    }
    worst
}

/// Three cores of 35 mm², armoured, 12 m clipped and 12 m in free air, armour and one core as protective conductor;
/// of 90 °C, limited to 70 °C.
fn feed(demand: Flow, told: &mut impl Told) -> Upstream {
    const LENGTH: f32 = 12.0;
    const R: f32 = 0.524;
    const RATING: f32 = 80.0;
    const AREA: f32 = 35.0;
    let (ambient, limit, last) = (30.0f32, 70.0, 250.0);
    let ac = |theta: f32| {
        let per_metre = R * warmed(COPPER, theta) / 1000.0;
        let x2 = 8.0 * std::f32::consts::PI * 50.0 * 1e-7 / per_metre;
        let x4 = x2 * x2;
        let skin = x4 / (192.0 + 0.8 * x4);
        1.0 + skin + skin * 0.756 * (0.312 * 0.756 + 1.18 / (skin + 0.27))
    };
    let r_hot = |theta: f32| R * warmed(COPPER, theta) * LENGTH / 1000.0 * ac(theta);
    let r_cold = R * warmed(COPPER, 20.0) * LENGTH / 1000.0;

    // Capacity by the tables of 90 and of 70 °C, the smaller.
    let iz = [[180.0f32, 145.0], [188.0, 157.0]].map(|[it_90, it_70]| {
        let left = limit - ambient;
        let (ca_90, ca_70) = (
            sqrtf(left / (90.0 - ambient)) * (1.0 - HAIR),
            left / (70.0 - ambient),
        );
        let (it, ca) = if it_70 * ca_70 < it_90 * ca_90 {
            (it_70, ca_70)
        } else {
            (it_90, ca_90)
        };
        it * ca
    });

    // Each of the two lengths: line, neutral, and armour beside a core.
    let line_hot = Z(r_hot(limit), 0.085 * LENGTH / 1000.0);
    let (armour_cold, core_cold) = (Z(2.3 * LENGTH / 1000.0, 0.0), Z(r_cold, 0.0));
    let armour_hot = Z(
        armour_cold.0 * warmed(STEEL, limit - 10.0) * 1.1,
        0.4 * LENGTH / 1000.0,
    );
    let core_hot = line_hot;
    let share = |one: Z, other: Z| other.magnitude() / one.plus(other).magnitude();
    let armour_share = share(armour_hot, core_hot).max(share(armour_cold, core_cold));
    let core_share = share(core_hot, armour_hot).max(share(core_cold, armour_cold));
    let parallel = |a: Z, b: Z| {
        let sum = a.plus(b);
        let square = sum.0 * sum.0 + sum.1 * sum.1;
        let (re, im) = (a.0 * b.0 - a.1 * b.1, a.0 * b.1 + a.1 * b.0);
        Z(
            (re * sum.0 + im * sum.1) / square,
            (im * sum.0 - re * sum.1) / square,
        )
    };
    let (protective_hot, protective_cold) = (
        parallel(armour_hot, core_hot),
        parallel(armour_cold, core_cold),
    );

    let ib = demand[0];
    told.at_most(ib, RATING);
    let smallest = iz[0].min(iz[1]);
    told.at_most(RATING, smallest);
    told.at_most(RATING * 145.0 / 100.0, smallest * 145.0 / 100.0);

    let (line, protective) = (line_hot.plus(line_hot), protective_hot.plus(protective_hot));
    let zs = behind(ZE, line.plus(protective));
    let if_min = CMIN * U0 / zs;
    told.at_most(zs, CMIN * U0 / 430.0);

    // At full temperature and at that of the load.
    let mut drop = [0.0; 2];
    for iz in iz {
        let of = |z: Z| demand[1] * z.0 + demand[2] * z.1 + demand[1] * z.0 + demand[2] * z.1;
        drop[0] += of(line_hot);
        let ratio = ib / iz;
        let theta = ambient + (limit - ambient) * ratio * ratio;
        drop[1] += of(Z(r_hot(theta), line_hot.1));
    }

    // The largest currents: at the origin as stated, after the first length by the conductors.
    let least_z = CMAX * U0 / LEVEL;
    let low = least(if_min);
    let far = || fuse_worst(low, most(if_min));
    let begins = [Z(0.0, 0.0), Z(r_cold, 0.0).plus(protective_cold)];
    let warm = |at_full: f32, iz: f32| {
        let ratio = RATING / iz;
        if ratio >= 1.0 {
            at_full
        } else {
            ambient + (at_full - ambient) * ratio * ratio
        }
    };
    let mut worst = (f32::INFINITY, 0.0, 0.0);
    for (begin, iz) in begins.into_iter().zip(iz) {
        let high = if begin.0 == 0.0 {
            LEVEL
        } else {
            CMAX * U0 / behind(least_z, begin)
        };
        let high = if begin.0 == 0.0 { high } else { most(high) };
        let all = fuse_worst(low, high.max(low));
        let strands = [
            (STEEL, 149.6 / 2.3, armour_share, limit - 10.0, 200.0),
            (COPPER, AREA, core_share, limit, last),
        ];
        let by_table = || {
            let k_line = k(COPPER, limit, last);
            let mut found = None;
            for (metal, area, _, first, last) in strands {
                let table = 16.0 * (k_line / k(metal, first, last));
                if least(area) >= table {
                    found = Some((table, area));
                }
            }
            found
        };
        for (metal, area, share, first, last) in strands {
            let own = k(metal, warm(first, iz), last);
            let mut came = (share * sqrtf(all) / own, area);
            if most(came.0) > area {
                came = by_table().unwrap_or_else(|| (share * sqrtf(far()) / own, area));
            }
            let free = came.1 / came.0;
            if free < worst.0 {
                worst = (free, came.0, came.1);
            }
        }
    }
    told.at_most(worst.1, worst.2);
    told.at_most(LEVEL, 16_000.0);

    let mut worst = (f32::INFINITY, 0.0, true);
    for (n, iz) in iz.into_iter().enumerate() {
        let high = if n == 0 {
            LEVEL
        } else {
            let neutral = CMAX * U0 / behind(least_z, Z(r_cold, 0.0));
            let earth = CMAX * U0 / behind(least_z, Z(r_cold, 0.0));
            most(if earth > neutral { earth } else { neutral })
        };
        let size = needed(
            fuse_worst(430.0f32.min(high), high),
            k(COPPER, warm(limit, iz), last),
        );
        let free = AREA / size;
        if free < worst.0 {
            worst = (free, size, most(size) <= AREA);
        }
    }
    if worst.2 {
        told.at_most(worst.1, AREA)
    } else {
        told.deemed()
    }

    let twice = |r: f32| r + r;
    Upstream {
        hot: line.plus(protective),
        line: twice(r_cold),
        neutral: twice(r_cold),
        protective: twice(protective_cold.0),
        least: least_z,
        drop,
    }
}

/// Let-through of a breaker of type B from its instantaneous current on, whose maker gives 12 000 A²s.
fn breaker(i: f32) -> f32 {
    12e3f32.min(i * i * 0.1)
}

fn final_circuit(c: &Final, up: &Upstream, told: &mut impl Told) {
    let (ambient, limit, last) = (30.0f32, 70.0, 160.0);
    let both = [Some(c.first), c.second];
    let hot = |t: &Twin, r: f32, theta: f32| r * warmed(COPPER, theta) * t.length / 1000.0;

    told.at_most(c.ib, c.rating);

    // Each length against what it must carry.
    let mut worst = (f32::INFINITY, 0.0, 0.0);
    for t in both.iter().flatten() {
        let need = if c.ring { c.rating.min(20.0) } else { c.rating };
        let free = t.it / need;
        if free < worst.0 {
            worst = (free, need, t.it);
        }
    }
    told.at_most(worst.1, worst.2);
    if !c.ring {
        let least = both
            .iter()
            .flatten()
            .fold(f32::INFINITY, |least, t| least.min(t.it));
        told.at_most(c.rating * 145.0 / 100.0, least * 145.0 / 100.0);
    }

    // Drop: full temperature, temperature of the load.
    let total = c.first.length
        + if c.ring {
            0.0
        } else {
            c.second.map_or(0.0, |t| t.length)
        };
    let [ib, active, reactive] = flow(c.ib, 1.0);
    let cos = active / ib;
    let mut run = [0.0; 2];
    let mut spur = [0.0; 2];
    let mut from = 0.0;
    for (n, t) in both.iter().flatten().enumerate() {
        let heating = match (c.ring, n) {
            (true, 0) => 0.5 * ib,
            (true, _) => ib.min(20.0),
            _ => ib,
        };
        let ratio = heating / t.it;
        let theta = ambient + (limit - ambient) * ratio * ratio;
        let r = [hot(t, t.r, limit), hot(t, t.r, theta)];
        if c.ring && n == 1 {
            spur = r.map(|r| heating * (cos * (r + r)));
            continue;
        }
        let to = from + t.length;
        let share = if c.ring {
            0.25
        } else if c.points <= 1 {
            1.0
        } else {
            let count = f32::from(c.points);
            let mut sum = 0.0;
            for i in 1..=c.points {
                let at = total * f32::from(i) / count;
                sum += (at - from).max(0.0).min(to - from);
            }
            sum / (count * (to - from))
        };
        from = to;
        for (run, r) in run.iter_mut().zip(r) {
            *run += share * (active * r + reactive * 0.0 + active * r + reactive * 0.0);
        }
    }
    let full = (up.drop[0] + run[0]) + spur[0];
    let load = (up.drop[1] + run[1]) + spur[1];
    told.at_most(full.max(load) / U0, c.drop);

    // The loop, hot.
    let mut line = [
        hot(&c.first, c.first.r, limit),
        c.first.r * warmed(COPPER, 20.0) * c.first.length / 1000.0,
    ];
    let mut protective = [
        hot(&c.first, c.first.r_protective, limit),
        c.first.r_protective * warmed(COPPER, 20.0) * c.first.length / 1000.0,
    ];
    let after_first = Z(line[1], 0.0).plus(Z(protective[1], 0.0)).0;
    let line_after_first = line[1];
    if c.ring {
        line = line.map(|r| r * 0.25);
        protective = protective.map(|r| r * 0.25);
    }
    if let Some(t) = c.second {
        line[0] += hot(&t, t.r, limit);
        protective[0] += hot(&t, t.r_protective, limit);
    }
    let zs = behind(ZE, up.hot.plus(Z(line[0] + protective[0], 0.0)));
    let if_min = CMIN * U0 / zs;
    let ia = 5.0 * c.rating;
    told.at_most(zs, CMIN * U0 / ia);

    // The energy, by the device and by the RCD up to what that can break.
    let rcd = roundf(0.03 * 5.0 * 1000.0) / 1000.0;
    let earth_at =
        |begin: f32| CMAX * U0 / behind(up.least, Z(up.line + up.protective + begin, 0.0));
    let neutral_at =
        |begin: f32| CMAX * U0 / behind(up.least, Z(up.line + up.neutral + begin, 0.0));
    // Those at the board once.
    let here = (earth_at(0.0), neutral_at(0.0));
    let earth = |begin: f32| {
        if begin == 0.0 {
            here.0
        } else {
            earth_at(begin)
        }
    };
    let neutral = |begin: f32| {
        if begin == 0.0 {
            here.1
        } else {
            neutral_at(begin)
        }
    };
    let energy = |low: f32, high: f32| {
        let high = high.max(low);
        let by_device = breaker(low).max(breaker(high));
        if low >= rcd && high <= 500.0 {
            by_device.min(high * high * 0.04)
        } else {
            by_device
        }
    };
    let low = least(if_min);
    let far = || energy(low, most(if_min));
    let warm = |t: &Twin| {
        let ratio = c.rating / t.it;
        if c.ring || ratio >= 1.0 {
            limit
        } else {
            ambient + (limit - ambient) * ratio * ratio
        }
    };
    let mut worst = (f32::INFINITY, 0.0, 0.0);
    let mut all = 0.0;
    for (n, t) in both.iter().flatten().enumerate() {
        let begin = if n == 0 || c.ring { 0.0 } else { after_first };
        if n == 0 || begin != 0.0 {
            all = energy(low, most(earth(begin)));
        }
        let own = k(COPPER, warm(t), last);
        let mut came = (needed(all, own), t.protective);
        if most(came.0) > came.1 {
            let table = t.area * (k(COPPER, limit, last) / k(COPPER, limit, last));
            came = if t.protective >= table {
                (table, t.protective)
            } else {
                (needed(far(), own), t.protective)
            };
        }
        let free = came.1 / came.0;
        if free < worst.0 {
            worst = (free, came.0, came.1);
        }
    }
    told.at_most(worst.1, worst.2);

    let largest = |neutral: f32, earth: f32| if earth > neutral { earth } else { neutral };
    told.at_most(largest(neutral(0.0), earth(0.0)), 6000.0);

    let mut worst = (f32::INFINITY, 0.0, 0.0);
    for (n, t) in both.iter().flatten().enumerate() {
        let begin = if n == 0 || c.ring {
            0.0
        } else {
            line_after_first
        };
        let high = most(largest(neutral(begin), earth(begin)));
        let size = needed(
            breaker(ia.min(high)).max(breaker(high)),
            k(COPPER, warm(t), last),
        );
        let free = t.area / size;
        if free < worst.0 {
            worst = (free, size, t.area);
        }
    }
    if most(worst.1) <= worst.2 {
        told.at_most(worst.1, worst.2)
    } else {
        told.deemed()
    }

    told.at_most(0.03, 0.03);
}
