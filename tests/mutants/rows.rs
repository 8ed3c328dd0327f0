//! Every row of `vectors/` in one process, put to core with one change after another. Built in the copy that
//! `tests/mutants` makes, where core has the switches.
//!
//! Reads numbers of changes, one a line, and says of each whether a row disagrees. Each is tried in a process of its
//! own, forked when the rows are read, and only by the rows that come by it.

use faultpath::mutant;
use faultpath_tests::vectors::{Row, compare, load, question, topics};
use faultpath_wasm::evidence::ask;
use faultpath_wasm::value::Value;
use std::collections::HashMap;
use std::io::{BufRead, Write};
use std::time::{Duration, Instant};

unsafe extern "C" {
    fn fork() -> i32;
    fn alarm(seconds: u32) -> u32;
    fn waitpid(process: i32, status: *mut i32, options: i32) -> i32;
    fn _exit(code: i32) -> !;
}

fn main() {
    let asked: Vec<(Row, Value)> = topics()
        .iter()
        .flat_map(|t| load(t).expect("rows").rows)
        .map(|row| {
            let question = question(&row).expect("a question");
            (row, question)
        })
        .collect();
    let mut by = HashMap::<usize, Vec<(Duration, usize)>>::new();
    let mut all = Duration::ZERO;
    for (n, (row, question)) in asked.iter().enumerate() {
        mutant::turn(0);
        let began = Instant::now();
        assert!(compare(row, &ask(question)).is_yes(), "{row:?}");
        let took = began.elapsed();
        all += took;
        mutant::turn(mutant::TRACED);
        let _ = ask(question);
        for id in mutant::seen() {
            by.entry(id).or_default().push((took, n));
        }
    }
    for rows in by.values_mut() {
        rows.sort_unstable();
    }
    eprintln!("{} rows in {:.2} s", asked.len(), all.as_secs_f64());
    let limit = 3 + 20 * u32::try_from(all.as_secs()).expect("seconds");
    for line in std::io::stdin().lock().lines() {
        let id: usize = line.expect("a line").trim().parse().expect("a number");
        let rows = by.get(&id).map_or(&[][..], Vec::as_slice);
        let mut status = 0;
        // SAFETY: there is no other thread, and the child only computes and ends.
        unsafe {
            let child = fork();
            assert!(child >= 0, "no process");
            if child == 0 {
                alarm(limit);
                std::panic::set_hook(Box::new(|_| _exit(2)));
                mutant::turn(id);
                for (row, question) in rows.iter().map(|(_, n)| &asked[*n]) {
                    if !compare(row, &ask(question)).is_yes() {
                        _exit(1);
                    }
                }
                _exit(0);
            }
            assert_eq!(waitpid(child, &raw mut status, 0), child);
        }
        let mut out = std::io::stdout().lock();
        let word = if status == 0 { "missed" } else { "rows" };
        writeln!(out, "{id} {word}").expect("a place for the answer");
        out.flush().expect("a place for the answer");
    }
}
