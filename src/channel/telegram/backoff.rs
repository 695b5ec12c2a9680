//! How long to wait after a failure, and longer after another.

use std::time::Duration;

const FIRST: Duration = Duration::from_millis(500);
const LONGEST: Duration = Duration::from_secs(60);

/// Waits that double, each cut short at random, so that clients which failed together do not come
/// back together.
#[derive(Debug, Default, Clone)]
pub struct Backoff {
    failures: u32,
}

impl Backoff {
    pub fn reset(&mut self) {
        self.failures = 0;
    }

    /// The wait after one more failure: between a half and the whole of the doubled time.
    pub fn next(&mut self) -> Duration {
        let whole = FIRST
            .saturating_mul(2_u32.saturating_pow(self.failures))
            .min(LONGEST);
        self.failures = self.failures.saturating_add(1);
        // Without random bytes the wait is a half: jitter is a courtesy.
        let random = getrandom::u32().unwrap_or(0);
        whole.mul_f64(0.5 + 0.5 * f64::from(random) / f64::from(u32::MAX))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn waits_grow_to_a_minute_and_start_anew() {
        let mut backoff = Backoff::default();
        let waits: Vec<Duration> = (0..100).map(|_| backoff.next()).collect();
        assert!(waits[0] <= FIRST && waits[0] >= FIRST / 2);
        assert!(waits[4] >= FIRST * 8);
        assert!(waits.iter().all(|wait| *wait <= LONGEST));
        assert!(waits[99] >= LONGEST / 2);
        backoff.reset();
        assert!(backoff.next() <= FIRST);
    }
}
