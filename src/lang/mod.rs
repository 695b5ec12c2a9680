//! Text to syntax.
pub mod syntax;
#[derive(Debug, Clone)]
pub struct Parsed {
    pub readings: Vec<syntax::Reading>,
}
