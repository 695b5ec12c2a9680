//! `hobside doctor`: what is told of the file, and of what else a channel needs.

use std::path::Path;

use chrono::{DateTime, Utc};

use super::telegram::Token;
use crate::render::doctor::{Finding, Report};
use crate::service::doctor;

/// Look at everything; nothing is changed, and no server is asked.
pub async fn examine(file: &Path, zone: Option<String>, now: DateTime<Utc>) -> Report {
    let token = Token::is_named().then(|| match Token::from_environment() {
        Ok(_) => Ok(()),
        Err(error) => Err(format!("{error:#}")),
    });
    let mut findings = vec![Finding::Token(token)];
    findings.extend(doctor::examine(file, zone, now).await);
    Report { now, findings }
}
