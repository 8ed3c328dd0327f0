//! The evidence in figures: how many rows of each topic and standing agree, and how closely.

use crate::vectors::{Agreement, File, Standing, answer, line};
use serde::Serialize;
use std::collections::BTreeMap;
use std::fmt::Write;

/// Rows of one topic and one standing.
#[derive(Debug, Serialize)]
pub struct Group {
    /// Topic.
    pub topic: String,
    /// Standing.
    pub standing: String,
    /// Rows there are.
    pub rows: usize,
    /// Rows that agree.
    pub agree: usize,
    /// The largest deviation of a row that agrees, in units of its tolerance (0 to 1).
    pub largest_deviation: f64,
    /// The row it is of; none where all are exact.
    pub largest_row: Option<String>,
}

/// A row that does not agree.
#[derive(Debug, Serialize)]
pub struct Failure {
    /// Topic.
    pub topic: String,
    /// The row in one line.
    pub row: String,
    /// What came.
    pub got: String,
}

/// All of it.
#[derive(Debug, Serialize)]
pub struct Report {
    /// Rows there are.
    pub rows: usize,
    /// Rows that agree.
    pub agree: usize,
    /// Rows from memory.
    pub from_memory: usize,
    /// Rows from memory with nothing but memory behind them.
    pub unsupported: usize,
    /// The largest deviation of a row that agrees, in units of its tolerance.
    pub largest_deviation: f64,
    /// By topic and standing.
    pub groups: Vec<Group>,
    /// Those that do not agree.
    pub failures: Vec<Failure>,
}

/// Whether nothing but memory is behind a row.
#[must_use]
pub fn is_unsupported(standing: Standing, support: &str) -> bool {
    standing == Standing::FromMemory && support.starts_with("none")
}

/// Answers every row.
#[must_use]
pub fn of(files: &[File]) -> Report {
    let mut groups: BTreeMap<(String, Standing), Group> = BTreeMap::new();
    let mut report = Report {
        rows: 0,
        agree: 0,
        from_memory: 0,
        unsupported: 0,
        largest_deviation: 0.0,
        groups: Vec::new(),
        failures: Vec::new(),
    };
    for file in files {
        for row in &file.rows {
            let group = groups
                .entry((file.topic.clone(), row.standing))
                .or_insert_with(|| Group {
                    topic: file.topic.clone(),
                    standing: row.standing.to_string(),
                    rows: 0,
                    agree: 0,
                    largest_deviation: 0.0,
                    largest_row: None,
                });
            group.rows += 1;
            report.rows += 1;
            report.from_memory += usize::from(row.standing == Standing::FromMemory);
            report.unsupported += usize::from(is_unsupported(row.standing, &row.support));
            match answer(row) {
                Agreement::Yes(off) => {
                    group.agree += 1;
                    report.agree += 1;
                    if off > group.largest_deviation {
                        group.largest_deviation = off;
                        group.largest_row = Some(line(row));
                    }
                }
                Agreement::No(got) => report.failures.push(Failure {
                    topic: file.topic.clone(),
                    row: line(row),
                    got,
                }),
            }
        }
    }
    report.groups = groups.into_values().collect();
    report.largest_deviation = report
        .groups
        .iter()
        .fold(0.0, |most, g| g.largest_deviation.max(most));
    report
}

impl Report {
    /// In a sentence: what the README says of it.
    #[must_use]
    pub fn sentence(&self) -> String {
        let of = |standing: Standing| -> usize {
            let name = standing.to_string();
            let groups = self.groups.iter().filter(|g| g.standing == name);
            groups.map(|g| g.rows).sum()
        };
        format!(
            "Of {} rows {} agree: {} published, {} common practice, {} from memory, {} our own. Of those from memory {} have a second support, and {} have none and are marked unsupported.",
            self.rows,
            if self.agree == self.rows {
                "all".to_owned()
            } else {
                self.agree.to_string()
            },
            of(Standing::Published),
            of(Standing::CommonPractice),
            self.from_memory,
            of(Standing::Own),
            self.from_memory - self.unsupported,
            self.unsupported
        )
    }

    /// As a table for a person.
    #[must_use]
    pub fn table(&self) -> String {
        let mut out = String::new();
        // Writing to a string can't fail.
        let _ = writeln!(
            out,
            "{:<13} {:<15} {:>5} {:>6}  largest deviation / tolerance",
            "topic", "standing", "rows", "agree"
        );
        for g in &self.groups {
            let _ = writeln!(
                out,
                "{:<13} {:<15} {:>5} {:>6}  {:.3}",
                g.topic, g.standing, g.rows, g.agree, g.largest_deviation
            );
        }
        let _ = writeln!(
            out,
            "{:<29} {:>5} {:>6}\n{}",
            "all",
            self.rows,
            self.agree,
            self.sentence()
        );
        for failure in &self.failures {
            let _ = writeln!(
                out,
                "{}: {}\n    got {}",
                failure.topic, failure.row, failure.got
            );
        }
        out
    }
}
