//! What a household chooses once: how it is answered, whose cups and whose keeping times it follows.

use super::hour::Hour;
use super::syntax::{ClockSetting, Words};

/// One of the things that the household chooses.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SettingPart {
    Zone,
    Measures,
    Answers,
    Guidance,
    Board,
    Energy,
    Decimals,
    DayTurns,
    PrepDay,
    MorningNote,
    EveningNote,
    PutAway,
    /// All of them.
    Notes,
    QuietHours,
}

#[derive(Debug, Clone, PartialEq)]
pub enum Setting {
    /// Answers to weighings: whole, one line, or a bare reaction.
    Answers(AnswerStyle),
    Measures(MeasureSystem),
    /// An IANA zone name as typed.
    Timezone(Words),
    /// Whose keeping times.
    Guidance(Region),
    /// Whether what is in stock hangs in the chat.
    Board(bool),
    /// In what energy is told.
    Energy(EnergyUnit),
    /// What stands before the decimals of a number.
    Decimals(DecimalMark),
    /// The hour at which a day ends and the next begins.
    DayTurns(Hour),
    /// When it is told what.
    Clock(ClockSetting),
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum AnswerStyle {
    Full,
    Brief,
    Reaction,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum EnergyUnit {
    Kcal,
    Kilojoule,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DecimalMark {
    Point,
    Comma,
}

/// Whose cups, spoons and pints.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum MeasureSystem {
    UsCustomary,
    Metric,
    Australian,
    /// Metric spoons and cups, imperial pints and fluid ounces.
    British,
}

/// Whose guidance on keeping food.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Region {
    UnitedStates,
    UnitedKingdom,
    AustraliaNewZealand,
}
