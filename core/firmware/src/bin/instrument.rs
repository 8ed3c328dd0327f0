//! The instrument on a Cortex-M4F board of QEMU (mps2-an386): the first serial port in and out.
#![no_std]
#![no_main]

use cortex_m_rt::entry;
use faultpath_firmware::frame::{BODY, Broken, Decoder, LINE, encode};
use faultpath_firmware::message::{Reply, Request, Why};
use faultpath_firmware::table::Instrument;

/// The first serial port of the board: an APB UART of the Cortex-M design kit.
struct Serial;

impl Serial {
    const DATA: *mut u32 = 0x4000_4000 as *mut u32;
    const STATE: *mut u32 = 0x4000_4004 as *mut u32;
    const CONTROL: *mut u32 = 0x4000_4008 as *mut u32;
    const DIVIDER: *mut u32 = 0x4000_4010 as *mut u32;

    fn new() -> Self {
        // SAFETY: registers of the board, used from here only.
        unsafe {
            Self::DIVIDER.write_volatile(16);
            Self::CONTROL.write_volatile(0b11);
        }
        Self
    }

    fn read(&mut self) -> u8 {
        // SAFETY: as above. Bit 1 of the state: a byte is there.
        unsafe {
            while Self::STATE.read_volatile() & 0b10 == 0 {}
            (Self::DATA.read_volatile() & 0xFF) as u8
        }
    }

    fn write(&mut self, bytes: &[u8]) {
        for byte in bytes {
            // SAFETY: as above. Bit 0 of the state: no room yet.
            unsafe {
                while Self::STATE.read_volatile() & 1 != 0 {}
                Self::DATA.write_volatile(u32::from(*byte));
            }
        }
    }

    fn reply(&mut self, reply: &Reply<'_>) {
        let mut body = [0; BODY];
        let mut line = [0; LINE];
        // Every reply is shorter than the longest body.
        let Ok(body) = postcard::to_slice(reply, &mut body) else {
            return;
        };
        if let Some(bytes) = encode(body, &mut line).and_then(|n| line.get(..n)) {
            self.write(bytes);
        }
    }
}

#[entry]
fn main() -> ! {
    let mut serial = Serial::new();
    let mut instrument = Instrument::new();
    let mut decoder: Decoder<LINE> = Decoder::new();
    #[cfg(feature = "evidence")]
    let mut questions = vectors::Questions::default();
    loop {
        let Some(frame) = decoder.push(serial.read()) else {
            continue;
        };
        let request = frame.and_then(|body| postcard::from_bytes(body).map_err(|_| Broken::Body));
        match request {
            Ok(Request::Judge(reading)) => match instrument.judge(&reading) {
                Ok(verdict) => serial.reply(&Reply::Verdict(verdict)),
                Err(why) => serial.reply(&Reply::Refused {
                    number: reading.number,
                    why,
                }),
            },
            Ok(Request::Status) => serial.reply(&Reply::Status(instrument.status)),
            #[cfg(feature = "evidence")]
            Ok(Request::Piece { last, bytes }) => questions.piece(last, bytes, &mut serial),
            #[cfg(not(feature = "evidence"))]
            Ok(Request::Piece { .. }) => serial.reply(&Reply::Refused {
                number: 0,
                why: Why::NoSuchRequest,
            }),
            Err(broken) => {
                instrument.status.broken = instrument.status.broken.wrapping_add(1);
                serial.reply(&Reply::Broken(broken));
            }
        }
    }
}

/// Questions of the vectors: with an allocator, which the instrument itself does without.
#[cfg(feature = "evidence")]
mod vectors {
    use super::{Reply, Serial, Why};
    use core::alloc::{GlobalAlloc, Layout};
    use core::cell::UnsafeCell;
    use core::ptr::null_mut;
    use faultpath_firmware::evidence::{Asked, answer};

    const ROOM: usize = 3 << 20;
    /// Of it, what the job that later questions are of may take.
    const QUESTION: usize = 128 << 10;

    /// Gives memory in a row and takes it back all at once, after each question.
    struct Row {
        room: UnsafeCell<[u8; ROOM]>,
        used: UnsafeCell<usize>,
    }

    // SAFETY: there is one thread and no interrupt.
    unsafe impl Sync for Row {}

    // SAFETY: each block lies after the one before, aligned, inside the room.
    unsafe impl GlobalAlloc for Row {
        unsafe fn alloc(&self, layout: Layout) -> *mut u8 {
            // SAFETY: one thread.
            unsafe {
                let base = self.room.get() as usize;
                let at = (base + *self.used.get()).next_multiple_of(layout.align()) - base;
                let Some(end) = at.checked_add(layout.size()).filter(|end| *end <= ROOM) else {
                    return null_mut();
                };
                *self.used.get() = end;
                self.room.get().cast::<u8>().add(at)
            }
        }

        unsafe fn dealloc(&self, _: *mut u8, _: Layout) {}
    }

    #[global_allocator]
    static ROW: Row = Row {
        room: UnsafeCell::new([0; ROOM]),
        used: UnsafeCell::new(0),
    };

    static QUESTION_ROOM: Room = Room(UnsafeCell::new([0; QUESTION]));
    static JOB_ROOM: Room = Room(UnsafeCell::new([0; QUESTION]));

    struct Room(UnsafeCell<[u8; QUESTION]>);

    // SAFETY: there is one thread and no interrupt.
    unsafe impl Sync for Room {}

    /// A question as its pieces come, and the job that was kept.
    #[derive(Default)]
    pub struct Questions {
        count: usize,
        job: usize,
        lost: bool,
    }

    impl Questions {
        pub fn piece(&mut self, last: bool, bytes: &[u8], serial: &mut Serial) {
            // SAFETY: one thread, and nobody else has these.
            let (question, job) = unsafe { (&mut *QUESTION_ROOM.0.get(), &mut *JOB_ROOM.0.get()) };
            let end = self.count + bytes.len();
            match question.get_mut(self.count..end) {
                Some(to) => {
                    to.copy_from_slice(bytes);
                    self.count = end;
                }
                None => self.lost = true,
            }
            if !last {
                return;
            }
            let whole = question.get(..self.count).filter(|_| !self.lost);
            self.count = 0;
            self.lost = false;
            match whole.map(|whole| answer(whole, job.get(..self.job).unwrap_or_default())) {
                Some(Asked::Answer(bytes)) => {
                    let mut pieces = bytes.chunks(200).peekable();
                    while let Some(piece) = pieces.next() {
                        serial.reply(&Reply::Piece {
                            last: pieces.peek().is_none(),
                            bytes: piece,
                        });
                    }
                }
                Some(Asked::Kept(kept)) => {
                    if let (Some(to), true) = (job.get_mut(..kept.len()), !kept.is_empty()) {
                        to.copy_from_slice(kept);
                        self.job = kept.len();
                    }
                    serial.reply(&Reply::Piece {
                        last: true,
                        bytes: b"kept",
                    });
                }
                Some(Asked::Nothing) | None => serial.reply(&Reply::Refused {
                    number: 0,
                    why: Why::NoQuestion,
                }),
            }
            // SAFETY: nothing of it is in use any more.
            unsafe { *ROW.used.get() = 0 };
        }
    }
}

#[panic_handler]
fn panic(_: &core::panic::PanicInfo<'_>) -> ! {
    // A watchdog would start it anew.
    loop {}
}
