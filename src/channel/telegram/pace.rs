//! The pace of sending, below the limits that Telegram names for bots: about one message a second in
//! a chat, twenty a minute in a group, thirty a second overall (Bots FAQ, "My bot is hitting limits").

use std::collections::{HashMap, VecDeque};
use std::time::{Duration, Instant};

/// At most so many in any stretch of time so long.
#[derive(Debug, Clone, Copy)]
struct Limit {
    count: usize,
    window: Duration,
}

const OVERALL: Limit = Limit {
    count: 30,
    window: Duration::from_secs(1),
};
const CHAT: Limit = Limit {
    count: 1,
    window: Duration::from_secs(1),
};
const GROUP: Limit = Limit {
    count: 20,
    window: Duration::from_secs(60),
};

/// When the next message may go. Time is passed in.
#[derive(Debug, Default)]
pub struct Pace {
    overall: VecDeque<Instant>,
    chats: HashMap<String, VecDeque<Instant>>,
}

impl Pace {
    /// The earliest time, not before `now`, at which one more message fits in the chat.
    pub fn free_at(&self, chat: &str, now: Instant) -> Instant {
        let mut free = free_at(&self.overall, OVERALL, now);
        if let Some(sent) = self.chats.get(chat) {
            free = free.max(free_at(sent, CHAT, now));
            if is_group(chat) {
                free = free.max(free_at(sent, GROUP, now));
            }
        }
        free
    }

    /// A message goes to the chat now.
    pub fn take(&mut self, chat: &str, now: Instant) {
        note(&mut self.overall, OVERALL, now);
        self.chats
            .retain(|_, sent| sent.back().is_some_and(|last| *last + GROUP.window > now));
        note(self.chats.entry(chat.to_owned()).or_default(), GROUP, now);
    }
}

/// Groups have negative ids.
pub fn is_group(chat: &str) -> bool {
    chat.starts_with('-')
}

fn free_at(sent: &VecDeque<Instant>, limit: Limit, now: Instant) -> Instant {
    match sent.len().checked_sub(limit.count) {
        Some(first) => now.max(sent[first] + limit.window),
        None => now,
    }
}

fn note(sent: &mut VecDeque<Instant>, widest: Limit, now: Instant) {
    sent.push_back(now);
    while sent.len() > widest.count {
        sent.pop_front();
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Send as fast as the pace allows, and give the times since the start.
    fn times(chats: &[&str], count: usize) -> Vec<Duration> {
        let start = Instant::now();
        let mut pace = Pace::default();
        let mut now = start;
        (0..count)
            .map(|turn| {
                let chat = chats[turn % chats.len()];
                now = pace.free_at(chat, now);
                pace.take(chat, now);
                now - start
            })
            .collect()
    }

    #[test]
    fn a_private_chat_gets_one_a_second() {
        let times = times(&["7"], 100);
        assert_eq!(times[0], Duration::ZERO);
        assert_eq!(times[1], Duration::from_secs(1));
        assert_eq!(times[99], Duration::from_secs(99));
    }

    #[test]
    fn a_group_gets_twenty_a_minute() {
        let times = times(&["-7"], 45);
        assert_eq!(times[19], Duration::from_secs(19));
        assert_eq!(times[20], Duration::from_secs(60));
        assert_eq!(times[40], Duration::from_secs(120));
        for window in times.windows(21) {
            assert!(window[20] - window[0] >= Duration::from_secs(60));
        }
    }

    #[test]
    fn all_chats_together_get_thirty_a_second() {
        let names: Vec<String> = (0..100).map(|chat| chat.to_string()).collect();
        let chats: Vec<&str> = names.iter().map(String::as_str).collect();
        let times = times(&chats, 100);
        assert_eq!(times[29], Duration::ZERO);
        assert_eq!(times[30], Duration::from_secs(1));
        assert_eq!(times[99], Duration::from_secs(3));
    }

    #[test]
    fn one_chat_does_not_hold_up_another() {
        let now = Instant::now();
        let mut pace = Pace::default();
        pace.take("1", now);
        assert!(pace.free_at("1", now) > now);
        assert_eq!(pace.free_at("2", now), now);
    }

    #[test]
    fn chats_that_are_quiet_are_forgotten() {
        let now = Instant::now();
        let mut pace = Pace::default();
        for chat in 0..50 {
            pace.take(&chat.to_string(), now);
        }
        pace.take("other", now + Duration::from_secs(61));
        assert_eq!(pace.chats.len(), 1);
    }
}
