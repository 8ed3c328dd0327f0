//! Pointers, held against null and alignment before they are used.

use crate::types::{fp_error, fp_status};

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
