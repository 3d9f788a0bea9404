//! Any text is read as operations or refused; what is read is written back, and needles do it or
//! refuse it.
#![no_main]

use evenloop_engine::needles::Needles;
use evenloop_engine::stitch::Op;
use evenloop_engine::written_ops::{read_ops, write_ops};
use libfuzzer_sys::fuzz_target;

/// More than any move of a stored plan may have (the reader of plans refuses such).
const MOST: u32 = 4_000;

fuzz_target!(|data: &[u8]| {
    let Some((_, raw)) = data.split_first() else {
        return;
    };
    let Ok(text) = std::str::from_utf8(raw) else {
        return;
    };
    let Ok(ops) = read_ops(text) else { return };
    let written = write_ops(&ops);
    assert_eq!(read_ops(&written).as_ref(), Ok(&ops));
    assert_eq!(written.len(), write_ops(&ops).len());
    if written_out(&ops) > MOST {
        return;
    }
    let mut needles = Needles::new();
    for op in &ops {
        if needles.apply(op).is_err() {
            break;
        }
        let sum: u16 = needles.per_needle().iter().sum();
        assert_eq!(sum, needles.stitches(), "needle by needle and all together");
        let _ = needles.end_round();
    }
});

fn written_out(ops: &[Op]) -> u32 {
    ops.iter()
        .map(|op| match op {
            Op::Repeat(inner, times) => written_out(inner).saturating_mul(times.get().into()),
            _ => 1,
        })
        .fold(0, u32::saturating_add)
}
