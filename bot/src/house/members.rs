//! What transports ask of the house beside lines: who someone is, how a line may go on, whom to ask.

use jiff::Timestamp;
use wrackline_core::civil::Zone;
use wrackline_core::journal::{Book, Event};
use wrackline_core::matter::may_know_of;
use wrackline_core::place::{CarerId, Place, Role};

use super::{Completion, House, Me, role_word, whole_second};
use crate::chat::blocks::Answer;
use crate::desk::tell::Tell;
use crate::lines;
use crate::msg;
use crate::store::{PlaceId, StoreError};
use crate::words::Message;

/// The place as one of its people reads it: in their own units, where they set any.
pub(super) fn place_of(book: &Book, me: CarerId, now: Timestamp) -> Place {
    let mut place = book.place_at(now);
    if let Some(units) = place.carers.get(&me).and_then(|carer| carer.units) {
        place.units = units;
    }
    place
}

/// The zone of a person, where they set one.
pub(super) fn own_zone(place: &Place, me: CarerId) -> Option<&Zone> {
    place.carers.get(&me)?.zone.as_ref()
}

/// Why someone who does not share the work now is not heard: their span is over, or they never did.
pub(super) fn outside(tell: &Tell<'_>, me: CarerId) -> Message {
    let span = tell.place.ended.get(&me).and_then(|carer| carer.span);
    match span {
        Some(span) => {
            let keepers: Vec<String> = tell.place.keepers().map(|id| tell.carer(id)).collect();
            msg!(
                "refuse-span-ended",
                ended = tell.date(span.to),
                keepers = tell.list(&keepers)
            )
        }
        None => msg!("refuse-stranger"),
    }
}

impl House {
    /// What a sitter whose span is over is told, whatever they try; `None` for everyone else.
    pub async fn ended(&self, place: PlaceId, carer: u32) -> Option<String> {
        let held = self.shelf.open(place).await.ok()?;
        let now = whole_second(self.clock.now());
        let at = held.book().place_at(now);
        at.ended.get(&CarerId(carer))?;
        let tell = Tell::to_all(&self.words, held.book(), &at, now);
        Some(tell.say(&outside(&tell, CarerId(carer))))
    }

    /// Completions of a line that is being typed.
    pub async fn complete(&self, place: PlaceId, carer: u32, line: &str) -> Vec<Completion> {
        let Ok(held) = self.shelf.open(place).await else {
            return Vec::new();
        };
        let now = whole_second(self.clock.now());
        let me = CarerId(carer);
        let at = place_of(held.book(), me, now);
        let Some(role) = at.carers.get(&me).map(|one| one.role) else {
            return Vec::new();
        };
        let context = lines::Context {
            book: held.book(),
            place: &at,
            me,
            now,
        };
        lines::complete(line, &context, role)
            .into_iter()
            .map(|(line, hint)| Completion {
                line,
                hint: self.words.say(&hint),
            })
            .collect()
    }

    /// Who a carer is; `None` when they share the work no longer.
    pub async fn me(&self, place: PlaceId, carer: u32) -> Option<Me> {
        let held = self.shelf.open(place).await.ok()?;
        let at = held.book().place_at(whole_second(self.clock.now()));
        let one = at
            .carers
            .get(&CarerId(carer))
            .filter(|one| one.role != Role::Helper)?;
        let tell = Tell {
            words: &self.words,
            book: held.book(),
            place: &at,
            now: self.clock.now(),
            zone: None,
        };
        Some(Me {
            name: tell.carer(one.id),
            role: tell.word(role_word(one.role)),
            place: at.name.clone(),
            zone: at.zone.name().to_owned(),
        })
    }

    /// Whether a carer may see what lies beside an entry: what is the keepers' alone is for them and who said it.
    ///
    /// # Errors
    /// Those of the store.
    pub async fn may_see(&self, place: PlaceId, carer: u32, seq: u64) -> Result<bool, StoreError> {
        let held = self.shelf.open(place).await?;
        let book = held.book();
        let at = book.place_at(whole_second(self.clock.now()).max(held.moment()));
        Ok(match book.entry(seq).map(|entry| (entry.by, &entry.event)) {
            Some((by, Event::Saw(_, sighting))) => may_know_of(&at, *sighting, by, CarerId(carer)),
            _ => true,
        })
    }

    /// The answer to a member whose account is no carer's of the place: whom to ask.
    pub async fn stranger(&self, place: PlaceId) -> Answer {
        let keepers = match self.keepers(place).await {
            Ok(keepers) => keepers,
            Err(error) => {
                tracing::error!(place, %error, "the keepers could not be read");
                return self.not_saved(&error);
            }
        };
        self.refusal(&msg!("link-stranger", keepers = keepers))
    }

    async fn keepers(&self, place: PlaceId) -> Result<String, StoreError> {
        let held = self.shelf.open(place).await?;
        let now = whole_second(self.clock.now());
        let at = held.book().place_at(now);
        let tell = Tell::to_all(&self.words, held.book(), &at, now);
        let names: Vec<String> = at.keepers().map(|id| tell.carer(id)).collect();
        Ok(tell.list(&names))
    }

    /// The answer on a server that is no place's.
    #[must_use]
    pub fn unlinked(&self) -> Answer {
        self.refusal(&msg!("link-unlinked"))
    }

    /// The keepers of a place that have an account on the platform, each with it, in order of carer; none when the
    /// store cannot be read.
    pub async fn keeper_accounts(&self, place: PlaceId) -> Vec<(u32, i64)> {
        let found = async {
            let accounts = self.shelf.store().accounts(place).await?;
            let held = self.shelf.open(place).await?;
            let at = held.book().place_at(whole_second(self.clock.now()));
            let keepers: Vec<CarerId> = at.keepers().collect();
            let of_keepers = accounts
                .into_iter()
                .filter(|(carer, _)| keepers.contains(&CarerId(*carer)));
            Ok::<_, StoreError>(of_keepers.collect())
        };
        found.await.unwrap_or_else(|error| {
            tracing::error!(place, %error, "the keepers' accounts could not be read");
            Vec::new()
        })
    }

    /// The name under which a member comes to share the work of a place: their own, so far as it fits a name and is
    /// nobody else's.
    ///
    /// # Errors
    /// Those of the store.
    pub async fn fitting_name(&self, place: PlaceId, raw: &str) -> Result<String, StoreError> {
        let held = self.shelf.open(place).await?;
        let at = held.book().place_at(whole_second(self.clock.now()));
        let taken = at.carers.keys().chain(at.ended.keys());
        let taken = taken.map(|id| held.book().name(*id));
        Ok(lines::fitting_name(raw, taken))
    }

    /// The values that a carer may choose for an argument of a line; see [`lines::offers`].
    pub async fn offers(
        &self,
        place: PlaceId,
        carer: u32,
        line: &str,
        sub: Option<&str>,
        option: &str,
        typed: &str,
    ) -> Vec<String> {
        let Ok(held) = self.shelf.open(place).await else {
            return Vec::new();
        };
        let now = whole_second(self.clock.now());
        let me = CarerId(carer);
        let at = place_of(held.book(), me, now);
        let Some(role) = at.carers.get(&me).map(|one| one.role) else {
            return Vec::new();
        };
        let context = lines::Context {
            book: held.book(),
            place: &at,
            me,
            now,
        };
        lines::offers(line, sub, option, typed, &context, role)
    }
}
