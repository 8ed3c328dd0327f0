//! Answers by search over the same checks: no formula is turned round, the installation is changed and
//! judged again.
//!
//! A circuit is good when its own findings pass, and those of every circuit that hangs on it, and an earth
//! fault at a board that hangs on it is covered.

use crate::assess::assess;
use crate::cable::Construction;
use crate::conductor::{self, Material};
use crate::device::{Curve, Device, Family, Rcd, RcdDelay, RcdType};
use crate::network::{Circuit, CircuitId, Installation, Part, Protective, Section, Shape};
use crate::quantity::{Amps, Metres, SquareMm};
use crate::supply::Earthing;
use crate::verdict::{Check, Finding, Outcome, Place, Recorder};

/// Why a search has no answer.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unsolved {
    /// No such circuit, or one that is refused as it stands.
    NoSuchCircuit,
    /// Whatever was tried, this check did not pass.
    Blocked(Check, Outcome),
}

/// What one edit can be.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub enum Change {
    /// Line conductors of the whole circuit to this size.
    Csa(SquareMm),
    /// The device to this one.
    Device(Device),
    /// An RCD for this circuit.
    Rcd(Rcd),
    /// A section no longer than this.
    Length(u8, Metres),
    /// A section by itself, not grouped.
    Ungrouped(u8),
    /// A core beside the armour, of this size.
    CoreBesideArmour(SquareMm),
}

/// The worst outcome of a circuit and of what hangs on it, and the first check that has it.
struct Branch<'a, const B: usize, const C: usize> {
    inst: &'a Installation<B, C>,
    circuit: CircuitId,
    worst: Outcome,
    check: Option<Check>,
    /// Of the findings as bad as that, the one with the least margin.
    governing: Option<Finding>,
    seen: bool,
}

impl<const B: usize, const C: usize> Recorder for Branch<'_, B, C> {
    fn finding(&mut self, f: &Finding) {
        let within = match f.place {
            Place::Circuit(id) => self.inst.is_within(id, self.circuit),
            // What the feed has to do with it is a matter of the feed.
            Place::Board(id) if f.check == Check::BoardFault => {
                let feed = self.inst.board(id).and_then(|b| b.fed_by);
                feed.is_some_and(|feed| self.inst.is_within(feed, self.circuit))
            }
            Place::Board(_) | Place::Supply => false,
        };
        if !within {
            return;
        }
        if f.place == Place::Circuit(self.circuit) {
            self.seen = true;
        }
        if f.outcome > self.worst {
            self.worst = f.outcome;
            self.check = Some(f.check);
            self.governing = None;
        }
        let margin = |f: &Finding| {
            let own = f.margin().filter(|_| f.check.is_of_conductors());
            own.unwrap_or(f32::INFINITY)
        };
        if f.outcome == self.worst
            && self
                .governing
                .as_ref()
                .is_none_or(|g| margin(f) < margin(g))
        {
            self.governing = Some(*f);
        }
    }
}

/// How a circuit and what hangs on it come out.
pub fn judge<const B: usize, const C: usize>(
    inst: &Installation<B, C>,
    earthing: Earthing,
    circuit: CircuitId,
) -> (Outcome, Option<Check>) {
    let part = branch(inst, earthing, circuit);
    if part.seen {
        (part.worst, part.check)
    } else {
        (Outcome::CannotSay, None)
    }
}

/// The finding that governs the conductors there: of those that come out worst, the one with the least of its limit
/// left, those that hang on size or length first. None where the circuit can't be judged.
pub fn governing<const B: usize, const C: usize>(
    inst: &Installation<B, C>,
    earthing: Earthing,
    circuit: CircuitId,
) -> Option<Finding> {
    let part = branch(inst, earthing, circuit);
    part.governing.filter(|_| part.seen)
}

fn branch<const B: usize, const C: usize>(
    inst: &Installation<B, C>,
    earthing: Earthing,
    circuit: CircuitId,
) -> Branch<'_, B, C> {
    let mut part = Branch {
        inst,
        circuit,
        worst: Outcome::Pass,
        check: None,
        governing: None,
        seen: false,
    };
    // Through the trait object: one walk for every recorder of a program is the smaller one.
    let _ = assess(inst, earthing, &mut part as &mut dyn Recorder);
    part
}

/// Gives every section of the run a line conductor of another size. What goes with the line conductor goes
/// with it: a core of the same size, the smaller core of a flat twin cable, a neutral that was equal.
pub fn set_csa(circuit: &mut Circuit, csa: SquareMm) {
    for s in &mut circuit.sections {
        set_section_csa(s, csa);
    }
}

fn set_section_csa(s: &mut Section, csa: SquareMm) {
    let old = s.csa;
    if let Protective::Core(c) | Protective::ArmourAndCore(_, c) = &mut s.protective {
        if s.construction == Construction::FlatTwin {
            if let Some(p) = conductor::flat_twin_protective(csa) {
                c.csa = p;
            }
        } else if c.csa == old {
            c.csa = csa;
        }
    }
    if s.neutral == Some(old) {
        s.neutral = Some(csa);
    }
    s.csa = csa;
}

/// The material all sections share; none where they differ.
#[must_use]
pub fn material(circuit: &Circuit) -> Option<Material> {
    let first = circuit.sections.first()?.material;
    circuit
        .sections
        .iter()
        .all(|s| s.material == first)
        .then_some(first)
}

/// Tries values one after the other and stops at the first that passes.
fn first_good<const B: usize, const C: usize, T>(
    inst: &mut Installation<B, C>,
    earthing: Earthing,
    id: CircuitId,
    mut candidates: impl Iterator<Item = T>,
    mut apply: impl FnMut(&mut Circuit, &T),
) -> Result<T, Unsolved> {
    let mut tried = None;
    let blocked = search(inst, earthing, id, &mut |circuit| {
        tried = candidates.next();
        if let Some(candidate) = &tried {
            apply(circuit, candidate);
        }
        tried.is_some()
    });
    tried.ok_or(blocked)
}

/// Changes a circuit by `next`, each time from how it was, until it passes or there is no other change; and
/// puts it back. Says what stands in the way as it was. One walk for all kinds of candidates is the smaller
/// program.
fn search<const B: usize, const C: usize>(
    inst: &mut Installation<B, C>,
    earthing: Earthing,
    id: CircuitId,
    next: &mut dyn FnMut(&mut Circuit) -> bool,
) -> Unsolved {
    let slot = usize::from(id.0);
    let Some(original) = inst.circuits.get(slot).cloned() else {
        return Unsolved::NoSuchCircuit;
    };
    // As it stands now: that is what a person sees failing.
    let blocked = match judge(inst, earthing, id) {
        (outcome, Some(check)) => Unsolved::Blocked(check, outcome),
        (_, None) => Unsolved::NoSuchCircuit,
    };
    while let Some(c) = inst.circuits.get_mut(slot) {
        *c = original.clone();
        if !next(c) {
            break;
        }
        if c.check().is_ok() && judge(inst, earthing, id).0 == Outcome::Pass {
            break;
        }
    }
    if let Some(c) = inst.circuits.get_mut(slot) {
        *c = original;
    }
    blocked
}

/// The smallest made size of line conductor, for the whole circuit, with which everything passes.
///
/// The installation is as before when this returns.
///
/// # Errors
/// [`Unsolved`]: which check does not pass as it stands now.
pub fn smallest_csa<const B: usize, const C: usize>(
    inst: &mut Installation<B, C>,
    earthing: Earthing,
    id: CircuitId,
) -> Result<SquareMm, Unsolved> {
    let m = inst
        .circuit(id)
        .and_then(material)
        .ok_or(Unsolved::NoSuchCircuit)?;
    let sizes = conductor::made(m).iter().map(|s| SquareMm::raw(*s));
    first_good(inst, earthing, id, sizes, |c, s| set_csa(c, *s))
}

/// The largest rating of the same family with which everything passes.
///
/// # Errors
/// [`Unsolved`]: which check does not pass as it stands now.
pub fn largest_rating<const B: usize, const C: usize>(
    inst: &mut Installation<B, C>,
    earthing: Earthing,
    id: CircuitId,
) -> Result<Device, Unsolved> {
    let device = inst.circuit(id).ok_or(Unsolved::NoSuchCircuit)?.device;
    let ratings = Device::ratings(device.family()).iter().rev();
    let devices = ratings.filter_map(|r| device.with_rating(Amps::raw(*r)).ok());
    first_good(inst, earthing, id, devices, |c, d| c.device = *d)
}

/// The longest section of the run, whose length is the one to look for, and that length.
#[must_use]
pub fn longest(circuit: &Circuit) -> Option<(u8, f32)> {
    let mut best: Option<(u8, f32)> = None;
    for (index, s) in (0u8..).zip(&circuit.sections) {
        let length = s.length.get();
        if s.part == Part::Run && best.is_none_or(|(_, l)| length > l) {
            best = Some((index, length));
        }
    }
    best
}

/// From one length tried to the next shorter one.
const STRIDE: f32 = 1.5;

/// The greatest length of the longest section of the run, the others as they are, with which everything
/// passes: not rounded, and always a length that was judged and passed, while the next greater `f32` does
/// not. Also which section.
///
/// A longer feed may also help, as less current reaches the devices behind it; so lengths are tried from the
/// greatest down, each two thirds of the one before, the present one among them. A range of good lengths
/// narrower than that, above the answer, is not found.
///
/// # Errors
/// [`Unsolved`]: where none passes, which check stands in the way at the shortest length.
pub fn greatest_length<const B: usize, const C: usize>(
    inst: &mut Installation<B, C>,
    earthing: Earthing,
    id: CircuitId,
) -> Result<(u8, Metres), Unsolved> {
    let (index, present) = inst
        .circuit(id)
        .and_then(longest)
        .ok_or(Unsolved::NoSuchCircuit)?;
    let slot = usize::from(id.0);
    let original = inst.circuit(id).ok_or(Unsolved::NoSuchCircuit)?.clone();
    let mut try_length = |length: f32| {
        if let Some(s) = inst
            .circuits
            .get_mut(slot)
            .and_then(|c| c.sections.get_mut(usize::from(index)))
        {
            s.length = Metres::raw(length);
        }
        judge(inst, earthing, id)
    };
    let (mut length, mut bad) = (Metres::MAX, Metres::MAX);
    let result = loop {
        match try_length(length) {
            (Outcome::Pass, _) => break Ok(length),
            (outcome, check) if length <= Metres::MIN => {
                break Err(check.map_or(Unsolved::NoSuchCircuit, |c| Unsolved::Blocked(c, outcome)));
            }
            _ => bad = length,
        }
        let next = (length / STRIDE).max(Metres::MIN);
        length = if present < length && present > next {
            present
        } else {
            next
        };
    };
    let result = result.map(|mut good| {
        // Halved until two neighbours are left.
        for _ in 0..40 {
            let middle = 0.5 * (good + bad);
            if middle <= good || middle >= bad {
                break;
            }
            if try_length(middle).0 == Outcome::Pass {
                good = middle;
            } else {
                bad = middle;
            }
        }
        (index, Metres::raw(good))
    });
    if let Some(c) = inst.circuits.get_mut(slot) {
        *c = original;
    }
    result
}

/// Makes a change to a circuit.
pub fn apply(circuit: &mut Circuit, change: &Change) {
    match change {
        Change::Csa(csa) => set_csa(circuit, *csa),
        Change::Device(device) => circuit.device = *device,
        Change::Rcd(rcd) => circuit.rcd = Some(*rcd),
        Change::Length(index, length) => {
            if let Some(s) = circuit.sections.get_mut(usize::from(*index)) {
                s.length = *length;
            }
        }
        Change::Ungrouped(index) => {
            if let Some(s) = circuit.sections.get_mut(usize::from(*index)) {
                s.laying.grouped = 1;
            }
        }
        Change::CoreBesideArmour(csa) => {
            for s in &mut circuit.sections {
                if let Protective::Armour(entered) = s.protective {
                    s.protective = Protective::ArmourAndCore(
                        entered,
                        crate::supply::Conductor {
                            material: s.material,
                            csa: *csa,
                        },
                    );
                }
            }
        }
    }
}

/// Tells every single change, of those that are tried, which makes a circuit pass that does not.
///
/// The installation is as before when this returns. Nothing is told for a circuit that passes.
pub fn changes<const B: usize, const C: usize>(
    inst: &mut Installation<B, C>,
    earthing: Earthing,
    id: CircuitId,
    mut tell: impl FnMut(Change),
) {
    if judge(inst, earthing, id).0 == Outcome::Pass {
        return;
    }
    let Some(original) = inst.circuit(id).cloned() else {
        return;
    };
    if let Ok(csa) = smallest_csa(inst, earthing, id) {
        tell(Change::Csa(csa));
    }
    if let Ok(device) = largest_rating(inst, earthing, id) {
        tell(Change::Device(device));
    }
    let device = original.device;
    let curves = [Curve::B, Curve::C]
        .into_iter()
        .filter_map(|curve| match device.family() {
            Family::Breaker(own) if own != curve => Some(Family::Breaker(curve)),
            Family::Rcbo(own) if own != curve => Some(Family::Rcbo(curve)),
            _ => None,
        });
    let others = curves.filter_map(|f| device.with_family(f).ok());
    if let Ok(device) = first_good(inst, earthing, id, others, |c, d| c.device = *d) {
        tell(Change::Device(device));
    }
    // The one that trips least by itself comes first.
    let rcds = [
        (0.3, RcdDelay::Selective),
        (0.1, RcdDelay::Selective),
        (0.3, RcdDelay::None),
        (0.1, RcdDelay::None),
        (0.03, RcdDelay::None),
    ];
    let rcds = rcds
        .into_iter()
        .filter_map(|(i, delay)| Rcd::new(Amps::raw(i), RcdType::A, delay).ok());
    if let Ok(rcd) = first_good(inst, earthing, id, rcds, |c, r| c.rcd = Some(*r)) {
        tell(Change::Rcd(rcd));
    }
    let core = original
        .sections
        .iter()
        .any(|s| matches!(s.protective, Protective::Armour(_)));
    if core {
        let sizes = conductor::made(Material::Copper)
            .iter()
            .map(|s| SquareMm::raw(*s))
            .map(Change::CoreBesideArmour);
        if let Ok(change) = first_good(inst, earthing, id, sizes, apply) {
            tell(change);
        }
    }
    for (index, s) in (0u8..).zip(&original.sections) {
        if s.laying.grouped > 1 {
            let one = core::iter::once(Change::Ungrouped(index));
            if let Ok(change) = first_good(inst, earthing, id, one, apply) {
                tell(change);
            }
        }
    }
    if original.shape == Shape::Radial {
        if let Ok((index, length)) = greatest_length(inst, earthing, id) {
            tell(Change::Length(index, length));
        }
    }
}

#[cfg(test)]
mod tests;
