//! What is known by a name: components, places, containers, guests.

use super::Writing;
use crate::domain::kitchen::{Component, Container, Member, Place};
use crate::store::error::{Doing, Result};
use crate::store::words::{self, time_text};

impl Writing<'_> {
    pub(super) async fn component(&mut self, component: &Component) -> Result<()> {
        sqlx::query!(
            "insert into component (household_id, component_id, name, name_key) values (?, ?, ?, ?)",
            self.household,
            component.id.0,
            component.name,
            component.key
        )
        .execute(self.transaction.connection())
        .await
        .doing("keep a component's name")?;
        Ok(())
    }

    /// Somebody who does not chat: no person stands behind it. They are at the table as long as a fact says so.
    pub(super) async fn guest(&mut self, member: &Member) -> Result<()> {
        let joined_at = time_text(self.now);
        sqlx::query!(
            "insert into member (household_id, member_id, name, joined_at, left_at) values (?1, ?2, ?3, ?4, ?4)",
            self.household,
            member.id.0,
            member.name,
            joined_at
        )
        .execute(self.transaction.connection())
        .await
        .doing("add a guest")?;
        Ok(())
    }

    pub(super) async fn place(&mut self, place: &Place) -> Result<()> {
        let kind = words::place_word(place.opened_as);
        sqlx::query!(
            "insert into place (household_id, place_id, name, kind) values (?, ?, ?, ?)",
            self.household,
            place.id.0,
            place.name,
            kind
        )
        .execute(self.transaction.connection())
        .await
        .doing("keep a place")?;
        Ok(())
    }

    pub(super) async fn container(&mut self, container: &Container) -> Result<()> {
        sqlx::query!(
            "insert into container (household_id, container_id, name) values (?, ?, ?)",
            self.household,
            container.id.0,
            container.name
        )
        .execute(self.transaction.connection())
        .await
        .doing("keep a container")?;
        Ok(())
    }
}
