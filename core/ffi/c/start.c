/* From reset to main on a Cortex-M4F of QEMU (mps2-an386), files and output by semihosting: for the tests only. */
#include <stdint.h>

extern void _start(void);

static void reset(void)
{
    volatile uint32_t *cpacr = (volatile uint32_t *)0xE000ED88u;
    *cpacr |= 0xFu << 20; /* the floating-point unit */
    __asm__ volatile("dsb\n\tisb");
    _start();
}

typedef void (*entry)(void);
extern const entry vectors[16];
__attribute__((section(".vectors"))) const entry vectors[16] = {
    (entry)0x20400000u, reset,
};
