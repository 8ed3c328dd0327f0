//! Where something is in a job.

#[cfg(target_os = "none")]
use crate::prelude::*;
use faultpath::words;

/// A place in a job, as a chain on the stack: no text until one is needed.
#[derive(Clone, Copy)]
pub enum Path<'a> {
    /// The job.
    Root,
    /// A field of something.
    Key(&'a Path<'a>, &'a str),
    /// An item of a list.
    At(&'a Path<'a>, usize),
}

impl<'a> Path<'a> {
    /// As `circuits[2].sections[0].length`.
    #[must_use]
    pub fn text(&self) -> String {
        let mut out = String::new();
        self.write(&mut out);
        out
    }

    fn write(&self, out: &mut String) {
        match self {
            Path::Root => {}
            Path::Key(up, key) => {
                up.write(out);
                if !out.is_empty() {
                    out.push('.');
                }
                out.push_str(key);
            }
            Path::At(up, index) => {
                up.write(out);
                out.push('[');
                // Writing to a string can't fail; a list is never longer.
                let _ = words::count(out, u32::try_from(*index).unwrap_or(u32::MAX));
                out.push(']');
            }
        }
    }

    /// The name of the field, the nearest one for an item of a list.
    #[must_use]
    pub fn last_key(&self) -> &'a str {
        match self {
            Path::Root => "job",
            Path::Key(_, key) => key,
            Path::At(up, _) => up.last_key(),
        }
    }
}

/// A field of the supply.
#[must_use]
pub fn of_supply(key: &str) -> String {
    Path::Key(&Path::Key(&Path::Root, "supply"), key).text()
}

/// A field of a board.
#[must_use]
pub fn of_board(index: u16, key: &str) -> String {
    of_item("boards", index, key)
}

/// A field of a circuit.
#[must_use]
pub fn of_circuit(index: u16, key: &str) -> String {
    of_item("circuits", index, key)
}

fn of_item(list: &str, index: u16, key: &str) -> String {
    let list = Path::Key(&Path::Root, list);
    Path::Key(&Path::At(&list, index.into()), key).text()
}

/// A field of a section of a circuit.
#[must_use]
pub fn of_section(circuit: u16, section: u8, key: &str) -> String {
    let circuits = Path::Key(&Path::Root, "circuits");
    let circuit = Path::At(&circuits, circuit.into());
    let sections = Path::Key(&circuit, "sections");
    Path::Key(&Path::At(&sections, section.into()), key).text()
}
