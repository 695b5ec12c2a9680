//! Problems of cooking ahead, for the tests of this layer.

use crate::domain::prep::problem::PrepProblem;
use crate::render::sample::g;

/// One of every kind.
pub fn problems() -> Vec<PrepProblem> {
    let problems = vec![PrepProblem::TrimmedHeavier {
        bought: g(980.0),
        trimmed: g(1150.0),
    }];
    problems.iter().for_each(is_listed);
    problems
}

/// A new kind stops the build here: list it above.
fn is_listed(problem: &PrepProblem) {
    match problem {
        PrepProblem::TrimmedHeavier { .. } => {}
    }
}
