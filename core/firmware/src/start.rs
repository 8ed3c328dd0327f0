//! From reset to the work of a probe and nothing else, so that what is measured is the library.
//!
//! With the feature `measure` the stack below the work is painted first and looked at after, and its instructions are
//! counted (on a Cortex-M by a timer that QEMU drives by them); both are told by semihosting.

use core::panic::PanicInfo;

/// Where a Cortex-M begins: the top of the stack, and the first instruction.
#[cfg(target_arch = "arm")]
#[unsafe(link_section = ".vectors")]
#[unsafe(no_mangle)]
static VECTORS: [unsafe extern "C" fn(); 2] = [stack_top, reset];

unsafe extern "C" {
    #[cfg(target_arch = "arm")]
    fn stack_top();
}

#[cfg(target_arch = "riscv32")]
core::arch::global_asm!(
    ".section .vectors, \"ax\"",
    ".global start",
    "start: la sp, stack_top",
    "j reset",
);

#[unsafe(no_mangle)]
unsafe extern "C" fn reset() {
    #[cfg(all(target_arch = "arm", target_abi = "eabihf"))]
    // SAFETY: the register that turns on the floating-point unit.
    unsafe {
        let cpacr = 0xE000_ED88 as *mut u32;
        cpacr.write_volatile(cpacr.read_volatile() | 0xF << 20);
        core::arch::asm!("dsb", "isb");
    }
    core::hint::black_box(super::work());
    #[cfg(feature = "measure")]
    semihosting::end();
    #[allow(clippy::empty_loop)]
    loop {}
}

/// Without `measure` only runs what it is given.
#[cfg(not(feature = "measure"))]
#[inline(always)]
pub fn measured<T>(run: impl Fn() -> T) -> T {
    run()
}

#[cfg(feature = "measure")]
pub use measuring::measured;

#[cfg(feature = "measure")]
mod measuring {
    use super::semihosting::tell;
    use core::hint::black_box;

    const PAINT: u32 = 0xA5A5_5A5A;
    /// Bytes below the caller that are painted.
    const DEPTH: usize = 256 << 10;
    const ROUNDS: u32 = 32;

    fn stack_pointer() -> usize {
        let sp: usize;
        #[cfg(target_arch = "arm")]
        // SAFETY: reads a register.
        unsafe {
            core::arch::asm!("mov {}, sp", out(reg) sp)
        };
        #[cfg(target_arch = "riscv32")]
        // SAFETY: reads a register.
        unsafe {
            core::arch::asm!("mv {}, sp", out(reg) sp)
        };
        sp
    }

    /// Instructions that a round takes.
    #[cfg(target_arch = "riscv32")]
    fn instructions(round: impl Fn()) -> u32 {
        let retired = || {
            let n: u32;
            // SAFETY: reads a counter, in machine mode.
            unsafe { core::arch::asm!("csrr {}, minstret", out(reg) n) };
            n
        };
        let from = retired();
        (0..ROUNDS).for_each(|_| round());
        retired().wrapping_sub(from) / ROUNDS
    }

    /// SysTick by the processor's clock: 25 MHz of QEMU's time, which goes on by 1 ns an instruction.
    #[cfg(target_arch = "arm")]
    fn instructions(round: impl Fn()) -> u32 {
        const CONTROL: *mut u32 = 0xE000_E010 as *mut u32;
        const RELOAD: *mut u32 = 0xE000_E014 as *mut u32;
        const NOW: *mut u32 = 0xE000_E018 as *mut u32;
        // SAFETY: registers of the core's timer.
        let ticks = unsafe {
            RELOAD.write_volatile(0x00FF_FFFF);
            NOW.write_volatile(0);
            CONTROL.write_volatile(0b101);
            let from = NOW.read_volatile();
            (0..ROUNDS).for_each(|_| round());
            from.wrapping_sub(NOW.read_volatile()) & 0x00FF_FFFF
        };
        ticks * 40 / ROUNDS
    }

    /// Tells stack and instructions of what it runs.
    #[inline(never)]
    pub fn measured<T>(run: impl Fn() -> T) -> T {
        let top = stack_pointer();
        let low = top - DEPTH;
        // SAFETY: memory below the stack pointer, less what this function's calls may take.
        for at in (low..top - 64).step_by(4) {
            unsafe { (at as *mut u32).write_volatile(PAINT) };
        }
        let out = black_box(run());
        let mut at = low;
        // SAFETY: as above.
        while at < top && unsafe { (at as *const u32).read_volatile() } == PAINT {
            at += 4;
        }
        tell(b"stack ", (top - at) as u32);

        let taken = instructions(|| {
            black_box(run());
        });
        tell(b"instructions ", taken);
        out
    }
}

#[cfg(feature = "measure")]
mod semihosting {
    fn call(what: u32, with: *const u8) {
        #[cfg(target_arch = "arm")]
        // SAFETY: the debugger's call; it writes no memory here.
        unsafe {
            core::arch::asm!("bkpt #0xAB", inout("r0") what => _, in("r1") with, options(nostack));
        }
        #[cfg(target_arch = "riscv32")]
        // SAFETY: the same; the two shifts around it, uncompressed, are its mark.
        unsafe {
            core::arch::asm!(
                ".balign 16", ".option push", ".option norvc",
                "slli x0, x0, 0x1f", "ebreak", "srai x0, x0, 7",
                ".option pop",
                inout("a0") what => _, in("a1") with, options(nostack),
            );
        }
    }

    pub fn tell(name: &[u8], n: u32) {
        for byte in name {
            call(3, byte);
        }
        let mut power = 1_000_000_000;
        while power > 0 {
            if n >= power || power == 1 {
                let digit = b'0' + (n / power % 10) as u8;
                call(3, &raw const digit);
            }
            power /= 10;
        }
        call(3, &raw const b"\n"[0]);
    }

    pub fn end() {
        call(0x18, 0x20026 as *const u8);
    }
}

#[panic_handler]
fn panic(_: &PanicInfo<'_>) -> ! {
    unsafe extern "C" {
        fn there_is_a_way_to_a_panic() -> !;
    }
    // SAFETY: defined nowhere: a probe with a way here does not link.
    unsafe { there_is_a_way_to_a_panic() }
}
