//! The few questions that a household may be asked when it begins.

use super::syntax::{Setting, SettingPart};

#[derive(Debug, Clone, PartialEq)]
pub enum SetUp {
    Begin,
    /// What was chosen of a part; `None`: it stays as it is.
    Step {
        part: SettingPart,
        chosen: Option<Box<Setting>>,
    },
    /// What is still to be asked stays as it is.
    Done,
}

/// The parts that are asked of, by what they are called there.
pub const SET_UP_PARTS: [(&str, SettingPart); 5] = [
    ("measures", SettingPart::Measures),
    ("energy", SettingPart::Energy),
    ("guidance", SettingPart::Guidance),
    ("zone", SettingPart::Zone),
    ("decimals", SettingPart::Decimals),
];
