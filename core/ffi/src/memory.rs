//! Pointers, held against null and alignment before they are used.

use crate::types::{fp_error, fp_status};
use core::mem::{align_of, size_of};

/// What a pointer points to.
///
/// # Safety
/// Where it is neither null nor misaligned it must point to a `T` that nobody changes while the borrow lives.
pub(crate) unsafe fn shared<'a, T>(pointer: *const T) -> Result<&'a T, fp_status> {
    ready(pointer)?;
    // SAFETY: neither null nor misaligned, and the caller vouches for the rest.
    Ok(unsafe { &*pointer })
}

/// Whether something may be written there at all.
pub(crate) fn ready<T>(pointer: *const T) -> Result<(), fp_status> {
    if pointer.is_null() {
        Err(fp_status::Null)
    } else if !pointer.is_aligned() {
        Err(fp_status::Misaligned)
    } else {
        Ok(())
    }
}

/// Memory of the caller that something of ours is made in.
pub(crate) trait Memory {
    /// What is in it.
    type Of;
    /// Says that it was made that.
    const MARK: u32;
}

/// What is made in memory of the caller.
#[repr(C)]
pub(crate) struct Made<T> {
    mark: u32,
    it: T,
}

impl<T> Made<T> {
    /// Whether the caller's memory has room for it.
    pub const fn fits<M>() -> bool {
        size_of::<Self>() <= size_of::<M>() && align_of::<Self>() <= align_of::<M>()
    }
}

/// What is in the memory, if it was made.
///
/// # Safety
/// As [`shared`].
pub(crate) unsafe fn made<'a, M: Memory>(memory: *const M) -> Result<&'a M::Of, fp_status> {
    const { assert!(Made::<M::Of>::fits::<M>()) };
    ready(memory)?;
    let made = memory.cast::<Made<M::Of>>();
    // SAFETY: of its size and alignment; the mark is a number whatever is there.
    unsafe {
        if (&raw const (*made).mark).read() != M::MARK {
            return Err(fp_status::NotMade);
        }
        Ok(&(*made).it)
    }
}

/// The same, to be changed.
///
/// # Safety
/// As [`made`], and nobody else uses it meanwhile.
pub(crate) unsafe fn made_mut<'a, M: Memory>(memory: *mut M) -> Result<&'a mut M::Of, fp_status> {
    // SAFETY: as this function's own.
    unsafe {
        made(memory.cast_const())?;
        Ok(&mut (*memory.cast::<Made<M::Of>>()).it)
    }
}

/// Makes it: `fill` writes where it belongs. Where that is refused nothing was made, nor is what was there before.
///
/// # Safety
/// The memory may hold anything, or be null or misaligned; `fill` must write all of it where it gives `Ok`.
pub(crate) unsafe fn make<M: Memory, E: From<fp_status>>(
    memory: *mut M,
    fill: impl FnOnce(*mut M::Of) -> Result<(), E>,
) -> Result<(), E> {
    const { assert!(Made::<M::Of>::fits::<M>()) };
    ready(memory.cast_const())?;
    let made = memory.cast::<Made<M::Of>>();
    // SAFETY: of its size and alignment; nothing that is there is read.
    unsafe {
        (&raw mut (*made).mark).write(0);
        fill(&raw mut (*made).it)?;
        (&raw mut (*made).mark).write(M::MARK);
    }
    Ok(())
}

/// Writes a result.
///
/// # Safety
/// Where it is neither null nor misaligned it must be memory for a `T` that may be written.
pub(crate) unsafe fn put<T>(pointer: *mut T, value: T) -> Result<(), fp_status> {
    ready(pointer.cast_const())?;
    // SAFETY: neither null nor misaligned, and the caller vouches for the rest. Nothing is read or dropped.
    unsafe { pointer.write(value) };
    Ok(())
}

/// Writes a result that is not asked for where the pointer is null.
///
/// # Safety
/// As [`put`].
pub(crate) unsafe fn put_if_wanted<T>(pointer: *mut T, value: T) -> Result<(), fp_status> {
    if pointer.is_null() {
        return Ok(());
    }
    // SAFETY: as this function's own.
    unsafe { put(pointer, value) }
}

/// Refuses an input; where the caller wants to know, says which and why.
///
/// # Safety
/// As [`put`].
pub(crate) unsafe fn refuse(pointer: *mut fp_error, error: fp_error) -> fp_status {
    // SAFETY: as this function's own.
    match unsafe { put_if_wanted(pointer, error) } {
        Ok(()) => fp_status::Refused,
        Err(status) => status,
    }
}

/// The body of an entry: `?` on a status inside.
pub(crate) fn status(body: impl FnOnce() -> Result<(), fp_status>) -> fp_status {
    match body() {
        Ok(()) => fp_status::Ok,
        Err(status) => status,
    }
}
