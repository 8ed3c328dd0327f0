//! Talks to the instrument in QEMU over its serial line: `desk PLAIN.elf EVIDENCE.elf`.
//!
//! First every row of `vectors/` through the program that knows the questions, bit for bit as the native build; then
//! 100 000 frames, whole, damaged and random, to the program as it would be in an instrument: every whole one is
//! answered, in order and as here, and nothing else is; then the same program with one figure of core's tables
//! changed, which must not judge anything.

use faultpath_firmware::evidence;
use faultpath_firmware::frame::{BODY, Decoder, LINE, encode};
use faultpath_firmware::message::{Kind, Reading, Reply, Request, Status, Why};
use faultpath_firmware::table::Instrument;
use faultpath_tests::vectors::{load, question, topics};
use faultpath_wasm::out::Out;
use faultpath_wasm::value::Value;
use std::io::{BufWriter, Read, Write};
use std::process::{Child, ChildStdin, ChildStdout, Command, Stdio, exit};
use std::sync::mpsc::{Receiver, RecvTimeoutError, channel};
use std::thread;
use std::time::{Duration, Instant};

/// No answer for this long is a hang.
const PATIENCE: Duration = Duration::from_secs(60);

/// A board in QEMU; ends with it.
struct Board {
    child: Child,
    line: Option<BufWriter<ChildStdin>>,
    bodies: Receiver<Result<Vec<u8>, String>>,
}

impl Board {
    fn start(program: &str) -> Self {
        let mut child = Command::new("qemu-system-arm")
            .args(["-M", "mps2-an386", "-display", "none", "-monitor", "none"])
            .args(["-serial", "stdio", "-kernel", program])
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .spawn()
            .unwrap_or_else(|e| fail(&format!("qemu-system-arm: {e}")));
        let line = child.stdin.take().map(BufWriter::new);
        let out = child.stdout.take();
        let (send, bodies) = channel();
        thread::spawn(move || {
            let Some(out) = out else { return };
            listen(out, |body| send.send(body).is_ok());
        });
        Self {
            child,
            line,
            bodies,
        }
    }

    fn send(&mut self, bytes: &[u8]) {
        let sent = self.line.as_mut().map(|line| line.write_all(bytes));
        if !matches!(sent, Some(Ok(()))) {
            fail("the board takes nothing more");
        }
    }

    fn flush(&mut self) {
        if let Some(line) = &mut self.line {
            let _ = line.flush();
        }
    }

    fn body(&mut self) -> Vec<u8> {
        match self.bodies.recv_timeout(PATIENCE) {
            Ok(Ok(body)) => body,
            Ok(Err(e)) => fail(&format!("the board sent a broken frame: {e}")),
            Err(RecvTimeoutError::Timeout) => fail("the board is silent"),
            Err(RecvTimeoutError::Disconnected) => fail("the board has ended"),
        }
    }
}

impl Drop for Board {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

fn listen(mut out: ChildStdout, mut take: impl FnMut(Result<Vec<u8>, String>) -> bool) {
    let mut decoder: Decoder<LINE> = Decoder::new();
    let mut some = [0; 4096];
    while let Ok(n) = out.read(&mut some) {
        if n == 0 {
            return;
        }
        for byte in some.iter().take(n) {
            let Some(frame) = decoder.push(*byte) else {
                continue;
            };
            if !take(frame.map(<[u8]>::to_vec).map_err(|e| format!("{e:?}"))) {
                return;
            }
        }
    }
}

fn fail(what: &str) -> ! {
    eprintln!("error: {what}");
    exit(1)
}

fn frame(request: &Request<'_>) -> Vec<u8> {
    let mut body = [0; BODY];
    let mut line = [0; LINE];
    let body = postcard::to_slice(request, &mut body).unwrap_or_else(|e| fail(&e.to_string()));
    let Some(n) = encode(body, &mut line) else {
        fail("a request too long for a frame")
    };
    line.iter().take(n).copied().collect()
}

// ---------------------------------------------------------------- the vectors

fn exchange(board: &mut Board, message: &[u8]) -> Vec<u8> {
    let mut pieces = message.chunks(200).peekable();
    while let Some(bytes) = pieces.next() {
        let last = pieces.peek().is_none();
        board.send(&frame(&Request::Piece { last, bytes }));
    }
    board.flush();
    let mut out = Vec::new();
    loop {
        let body = board.body();
        match postcard::from_bytes(&body) {
            Ok(Reply::Piece { last, bytes }) => {
                out.extend_from_slice(bytes);
                if last {
                    return out;
                }
            }
            other => fail(&format!("no answer to a question but {other:?}")),
        }
    }
}

fn job_of(question: &Value) -> Option<&Value> {
    match question.get("inputs").get("job") {
        job @ Value::Map(_) => Some(job),
        _ => None,
    }
}

/// Rows on their way to the board, and what they are answered here.
#[derive(Default)]
struct Rows {
    asked: usize,
    differ: usize,
    /// Questions of one job that are asked together.
    of_job: Vec<(String, Value)>,
    job: Option<Value>,
}

impl Rows {
    fn hold(&mut self, name: &str, got: &[u8], here: &[u8]) {
        self.asked += 1;
        if got != here {
            self.differ += 1;
            eprintln!("{name} differs: {got:?}, here {here:?}");
        }
    }

    fn row(&mut self, board: &mut Board, name: &str, question: Value) {
        let job = job_of(&question);
        let altered = question.get("inputs").get("with") != &Value::Null;
        if job.is_none() || altered || question.get("ask").text() != Some("job") {
            if let Some(job) = job {
                keep(board, job);
                self.job = None;
            }
            let got = exchange(board, &evidence::ask(&question, job.is_some()));
            let here = evidence::bytes_of(&faultpath_wasm::evidence::ask(&question).into());
            self.hold(name, &got, &here);
            return;
        }
        if self.job.as_ref() != job || self.of_job.len() >= 100 {
            self.finish(board);
            self.job = job.cloned();
        }
        self.of_job.push((name.to_owned(), question));
    }

    /// Asks what was put off.
    fn finish(&mut self, board: &mut Board) {
        let rows = std::mem::take(&mut self.of_job);
        let (Some(job), false) = (&self.job, rows.is_empty()) else {
            return;
        };
        keep(board, job);
        let (names, questions): (Vec<String>, Vec<Value>) = rows.into_iter().unzip();
        let got = exchange(board, &evidence::ask_many(&questions));
        // Here each by itself, so that one judging for all is held against one for each.
        let here: Vec<Out> = questions
            .iter()
            .map(|q| faultpath_wasm::evidence::ask(q).into())
            .collect();
        let wanted = evidence::bytes_of(&Out::List(here));
        let count = names.len();
        self.hold(
            &format!("one of {count} rows ({}, ...)", names[0]),
            &got,
            &wanted,
        );
        self.asked += count - 1;
    }
}

fn keep(board: &mut Board, job: &Value) {
    if exchange(board, &evidence::keep(job)) != b"kept" {
        fail("a job was not kept");
    }
}

fn vectors(program: &str) {
    let began = Instant::now();
    let mut board = Board::start(program);
    let mut rows = Rows::default();
    let mut all = 0;
    for topic in topics() {
        let file = load(&topic).unwrap_or_else(|e| fail(&e));
        all += file.rows.len();
        for row in &file.rows {
            let question = question(row).unwrap_or_else(|e| fail(&e));
            rows.row(&mut board, &format!("{topic}: {}", row.ask), question);
        }
        rows.finish(&mut board);
    }
    println!(
        "{} rows of the vectors through the instrument, {} not as here, {:.1} s",
        rows.asked,
        rows.differ,
        began.elapsed().as_secs_f32()
    );
    if rows.differ > 0 || rows.asked != all || all < 3000 {
        fail("not the same bits");
    }
}

// ---------------------------------------------------------------- frames

/// Random numbers that are the same each time (xorshift).
struct Dice(u64);

impl Dice {
    fn next(&mut self) -> u64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        self.0
    }

    #[allow(clippy::cast_possible_truncation)]
    fn below(&mut self, n: usize) -> usize {
        (self.next() % n as u64) as usize
    }
}

#[allow(clippy::cast_possible_truncation)]
fn reading(number: u32, dice: &mut Dice) -> Reading {
    let figure = match dice.below(8) {
        0 => f32::from_bits(dice.next() as u32),
        1 => -0.5,
        _ => dice.below(4000) as f32 / 1000.0,
    };
    Reading {
        number,
        circuit: dice.below(5) as u8,
        kind: [Kind::Zs, Kind::R1R2, Kind::Insulation, Kind::RcdTime][dice.below(4)],
        figure,
        above: dice.below(10) == 0,
    }
}

/// A frame with something wrong between its zero bytes; one that is whole all the same is told apart by its bytes.
#[allow(clippy::cast_possible_truncation)]
fn damaged(good: &[u8], dice: &mut Dice) -> Vec<u8> {
    let mut bad = good.to_vec();
    let inside = bad.len() - 2;
    match dice.below(7) {
        0 => bad[1 + dice.below(inside)] ^= 1 << dice.below(8),
        1 => drop(bad.remove(1 + dice.below(inside))),
        2 => bad.insert(1 + dice.below(inside), dice.next() as u8),
        3 => bad.truncate(1 + dice.below(inside)),
        4 => bad = (0..dice.below(300)).map(|_| dice.next() as u8).collect(),
        5 => {
            let at = 1 + dice.below(inside);
            bad[at] = dice.next() as u8;
        }
        // Two without an end between them.
        _ => bad = [&good[..good.len() - 1], &good[1..]].concat(),
    }
    // The end that the next frame's first byte is, so that what is wrong is this one only.
    bad.push(0);
    bad
}

const FRAMES: u32 = 100_000;

fn frames(program: &str) {
    let began = Instant::now();
    let mut board = Board::start(program);
    let mut dice = Dice(0x5EED_0FAB_1E00_0001);
    let mut here = Instrument::new();
    let mut decoder: Decoder<LINE> = Decoder::new();
    let mut expected: Vec<Vec<u8>> = Vec::new();
    let (mut whole, mut seen) = (0u32, 0);
    for number in 0..FRAMES {
        let good = frame(&Request::Judge(reading(number, &mut dice)));
        let sound = dice.below(2) == 0;
        let bytes = if sound {
            good
        } else {
            damaged(&good, &mut dice)
        };
        if sound {
            whole += 1;
        }
        // What the same code says here of the same bytes, and so that a whole frame is answered whatever was before.
        let before = expected.len();
        for byte in &bytes {
            if let Some(frame) = decoder.push(*byte) {
                expected.push(reply_here(frame, &mut here));
            }
        }
        if sound && (expected.len() != before + 1 || !is_answer(&expected[before], number)) {
            fail("a whole frame is not answered here");
        }
        board.send(&bytes);
        // Not more ahead than the line between holds.
        if expected.len() - seen > 64 {
            board.flush();
            while seen < expected.len() {
                compare(&board.body(), &expected[seen], seen);
                seen += 1;
            }
        }
    }
    board.flush();
    for (n, wanted) in expected.iter().enumerate().skip(seen) {
        compare(&board.body(), wanted, n);
    }
    board.send(&frame(&Request::Status));
    board.flush();
    let body = board.body();
    let Ok(Reply::Status(status)) = postcard::from_bytes(&body) else {
        fail("no status at the end")
    };
    if status != here.status {
        fail(&format!("it counted {status:?}, here {:?}", here.status));
    }
    let Status {
        agreed,
        verdicts,
        refused,
        broken,
        ..
    } = status;
    println!("{agreed} rows of its self-check agree");
    println!(
        "{FRAMES} frames, {whole} whole: {verdicts} verdicts, {refused} refused, {broken} broken frames told; each as here, none lost, {:.1} s",
        began.elapsed().as_secs_f32()
    );
    if verdicts + refused < whole || broken < FRAMES / 4 || verdicts < FRAMES / 4 {
        fail("a strange count");
    }
}

// ---------------------------------------------------------------- a fault in its memory

/// Resistance of copper from 1 mm² on, as core has it in a row, in Ω/km.
const COPPER: [f32; 4] = [18.1, 12.1, 7.41, 4.61];

/// The program with the resistance of 1.5 mm² one bit off.
fn spoilt(program: &str) -> String {
    let mut bytes = std::fs::read(program).unwrap_or_else(|e| fail(&format!("{program}: {e}")));
    let table: Vec<u8> = COPPER.iter().flat_map(|r| r.to_le_bytes()).collect();
    let at: Vec<usize> = (0..bytes.len().saturating_sub(table.len()))
        .filter(|at| bytes[*at..].starts_with(&table))
        .collect();
    let [at] = at.as_slice() else {
        fail(&format!("the table is {} times in the program", at.len()))
    };
    // The highest bit of the mantissa but one: 12.1 becomes 14.1.
    bytes[at + 6] ^= 0x20;
    let spoilt = format!("{program}.spoilt");
    std::fs::write(&spoilt, bytes).unwrap_or_else(|e| fail(&format!("{spoilt}: {e}")));
    spoilt
}

/// Readings that were judged are refused once the self-check has failed.
fn fault(program: &str) {
    let mut board = Board::start(&spoilt(program));
    for number in 0..100 {
        let reading = Reading {
            number,
            circuit: 1,
            kind: Kind::Zs,
            figure: 0.9,
            above: false,
        };
        if Instrument::new().judge(&reading).is_err() {
            fail("the reading is not judged here");
        }
        board.send(&frame(&Request::Judge(reading)));
        board.flush();
        let body = board.body();
        match postcard::from_bytes(&body) {
            Ok(Reply::Refused {
                number: refused,
                why: Why::NotSound,
            }) if refused == number => {}
            other => fail(&format!("with a fault in its memory it says {other:?}")),
        }
    }
    board.send(&frame(&Request::Status));
    board.flush();
    let body = board.body();
    match postcard::from_bytes(&body) {
        Ok(Reply::Status(status)) if status.off > 0 && status.verdicts == 0 => println!(
            "with one bit of a table changed {} rows of its self-check are off, and nothing is judged",
            status.off
        ),
        other => fail(&format!("with a fault in its memory it says {other:?}")),
    }
}

fn is_answer(body: &[u8], wanted: u32) -> bool {
    match postcard::from_bytes(body) {
        Ok(Reply::Verdict(v)) => v.number == wanted,
        Ok(Reply::Refused { number, .. }) => number == wanted,
        _ => false,
    }
}

fn reply_here(
    frame: Result<&[u8], faultpath_firmware::frame::Broken>,
    here: &mut Instrument,
) -> Vec<u8> {
    use faultpath_firmware::frame::Broken;
    let request = frame.and_then(|b| postcard::from_bytes(b).map_err(|_| Broken::Body));
    let reply = match request {
        Ok(Request::Judge(reading)) => match here.judge(&reading) {
            Ok(verdict) => Reply::Verdict(verdict),
            Err(why) => Reply::Refused {
                number: reading.number,
                why,
            },
        },
        Ok(Request::Status) => Reply::Status(here.status),
        Ok(Request::Piece { .. }) => Reply::Refused {
            number: 0,
            why: Why::NoSuchRequest,
        },
        Err(broken) => {
            here.status.broken += 1;
            Reply::Broken(broken)
        }
    };
    let mut body = [0; BODY];
    match postcard::to_slice(&reply, &mut body) {
        Ok(body) => body.to_vec(),
        Err(e) => fail(&e.to_string()),
    }
}

fn compare(got: &[u8], wanted: &[u8], n: usize) {
    if got != wanted {
        let (got, wanted): (Result<Reply<'_>, _>, Result<Reply<'_>, _>) =
            (postcard::from_bytes(got), postcard::from_bytes(wanted));
        fail(&format!("reply {n}: {got:?}, here {wanted:?}"));
    }
}

fn main() {
    let names: Vec<String> = std::env::args().skip(1).collect();
    let [plain, with_questions] = names.as_slice() else {
        fail("desk PLAIN.elf EVIDENCE.elf")
    };
    vectors(with_questions);
    frames(plain);
    fault(plain);
}
