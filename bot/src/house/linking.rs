//! A place comes to be at home on a server of the chat platform: by a code that its keeper was given, or anew.

use jiff::Timestamp;
use sha2::{Digest, Sha256};
use wrackline_core::civil::Zone;
use wrackline_core::journal::{Book, CarerChange, Entry, Event, PlaceChange};
use wrackline_core::place::{CarerId, Role};

use super::{House, Input, Said, TRIES_MAX, whole_second};
use crate::chat::blocks::Answer;
use crate::desk::setup::linking::{CODE_VALID_MIN, Linked, ZONE_UNSAID, link};
use crate::desk::tell::Tell;
use crate::desk::{Desk, Refused};
use crate::lines;
use crate::msg;
use crate::shelf::row;
use crate::store::{Change, InboundRow, PlaceId, ServerRow, StoreError};
use crate::words::Message;

/// `/place link` as a member of a server says it, by the platform's numbers.
#[derive(Clone, Debug)]
pub struct LinkRequest {
    /// The server.
    pub server: i64,
    /// The channel in it that the place is to post to.
    pub channel: i64,
    /// The member's account.
    pub account: i64,
    /// What the member is called on the server.
    pub name: String,
    /// Whether the member may manage the server.
    pub manages: bool,
    /// The platform's id of the request; a repeat gets the first answer.
    pub id: String,
    /// The place's zone, as typed.
    pub zone: Option<String>,
    /// A code that a keeper was given elsewhere.
    pub code: Option<String>,
}

/// The number of a place's first keeper.
pub const FIRST_KEEPER: CarerId = CarerId(1);

/// The first entries of a place: its zone, its keeper, its name where it has one. They count from the beginning of
/// time, so that what was done before the place was made may be logged.
#[must_use]
pub fn founding(zone: &Zone, name: &str) -> Vec<Entry> {
    let named = (!name.is_empty()).then(|| Event::Place(PlaceChange::Name(name.to_owned())));
    let events = [
        Event::Place(PlaceChange::Zone(zone.name().to_owned())),
        Event::Carer(FIRST_KEEPER, CarerChange::Added(Role::Keeper)),
    ];
    let entry = |(seq, event)| Entry::at_once(seq, Timestamp::UNIX_EPOCH, FIRST_KEEPER, event);
    (1..).zip(events.into_iter().chain(named)).map(entry).collect()
}

/// A code that was used up for a request that is not written yet.
type Used = Option<(PlaceId, CarerId)>;

/// A request that nothing stands against so far.
struct Checked {
    at_home: Option<PlaceId>,
    zone: Option<String>,
    /// The place of the code, the keeper to whom it was given, and the code as it was made.
    named: Option<(PlaceId, CarerId, String)>,
}

impl House {
    /// Links a server of the platform to a place: to the one of the code, to the server's own with another channel,
    /// or to a new one. A member who is no carer there becomes a keeper, since they may manage the server. Nothing is
    /// changed when it is refused, and the code stays good.
    pub async fn link(&self, request: LinkRequest) -> Answer {
        let mut used: Used = None;
        let mut answer = self.not_saved(&StoreError::Locked);
        for _ in 0..TRIES_MAX {
            answer = match self.link_once(&request, &mut used).await {
                Ok(answer) => answer,
                Err(StoreError::Conflict | StoreError::Repeat) => continue,
                Err(error) => {
                    tracing::error!(server = request.server, %error, "a server could not be linked");
                    self.not_saved(&error)
                }
            };
            break;
        }
        if let (Some((place, keeper)), Some(code)) = (used, &request.code) {
            let code = plain(code);
            let put = match answer.ok {
                // From now on it is refused at first sight.
                true => self.forget_code(place, keeper, &code).await,
                false => self.put_code(place, keeper, &code, Way::Use).await,
            };
            if let Err(error) = put {
                tracing::warn!(place, linked = answer.ok, %error, "a code is not as it should be");
            }
        }
        answer
    }

    async fn link_once(&self, request: &LinkRequest, used: &mut Used) -> Result<Answer, StoreError> {
        let Checked { at_home, zone, named } = match self.checked(request).await? {
            Ok(checked) => checked,
            Err(answer) => return Ok(*answer),
        };
        let place = named.as_ref().map(|(place, ..)| *place).or(at_home);
        match place {
            Some(place) => {
                let code = named.as_ref().map(|(_, keeper, code)| (*keeper, code.as_str()));
                self.link_to(place, request, zone, code, used).await
            }
            None => self.link_anew(request, zone).await,
        }
    }

    /// What stands against a request before anything was said in its channel, or what was answered to it before;
    /// `None` when it may go on. Nothing is changed.
    pub async fn link_hindered(&self, request: &LinkRequest) -> Option<Answer> {
        match self.checked(request).await {
            Ok(Ok(_)) => None,
            Ok(Err(answer)) => Some(*answer),
            Err(error) => {
                tracing::error!(server = request.server, %error, "a link could not be looked at");
                Some(self.not_saved(&error))
            }
        }
    }

    async fn checked(&self, request: &LinkRequest) -> Result<Result<Checked, Box<Answer>>, StoreError> {
        let refuse = |why: &Message| Ok(Err(Box::new(self.refusal(why))));
        let at_home = self.shelf.store().place_of_server(request.server).await?;
        if let Some(place) = at_home
            && let Some(first) = self.first_answer(place, &request.id).await?
        {
            return Ok(Err(Box::new(first)));
        }
        if !request.manages {
            return refuse(&msg!("link-not-manager"));
        }
        let zone = match request.zone.as_deref().map(lines::zone_named).transpose() {
            Ok(zone) => zone,
            Err(refusal) => return refuse(&refusal.0),
        };
        let Some(code) = &request.code else {
            let named = None;
            return Ok(Ok(Checked { at_home, zone, named }));
        };
        let code = plain(code);
        // The code is only looked at until all else is in order.
        let Some((place, keeper)) = self.use_code(&code, Way::Look).await? else {
            return refuse(&msg!("link-code-wrong"));
        };
        if at_home.is_some_and(|other| other != place) {
            return refuse(&msg!("link-server-taken"));
        }
        let named = Some((place, keeper, code));
        Ok(Ok(Checked { at_home, zone, named }))
    }

    /// Links a place that is there already; in the name of a keeper, where a code names one.
    async fn link_to(
        &self,
        place: PlaceId,
        request: &LinkRequest,
        zone: Option<String>,
        code: Option<(CarerId, &str)>,
        used: &mut Used,
    ) -> Result<Answer, StoreError> {
        let held = self.shelf.open(place).await?;
        // Asked while the book is held: the same request may be on its way twice at the same time.
        if let Some(first) = self.first_answer(place, &request.id).await? {
            return Ok(first);
        }
        let moment = self.clock.now();
        let now = whole_second(moment);
        let at = held.book().place_at(now);
        let tell = Tell::to_all(&self.words, held.book(), &at, now);
        let owner = self
            .shelf
            .store()
            .carer_of(place, request.account)
            .await?
            .map(CarerId);
        if let Some(owner) = owner.filter(|owner| at.ended.contains_key(owner)) {
            return Ok(self.refusal(&super::members::outside(&tell, owner)));
        }
        let carer = code.map(|(keeper, _)| keeper).or(owner);
        let role = carer
            .and_then(|carer| at.carers.get(&carer))
            .map_or(Role::Keeper, |carer| carer.role);
        let desk = Desk {
            tell,
            // Whoever is new here gets a number at the desk.
            me: carer.unwrap_or(CarerId(0)),
            role,
        };
        if let Some((keeper, code)) = code {
            let is_keeper = |id| at.keepers().any(|keeper| keeper == id);
            let taken = self.taken(place, &desk, &[(keeper, request.account)]).await?;
            if let Some(refused) = taken.filter(|_| is_keeper(keeper)) {
                return Ok(desk.refuse(&refused));
            }
            if !is_keeper(keeper) {
                return Ok(desk.refuse(&msg!("link-code-wrong")));
            }
            if used.is_none() {
                *used = self.use_code(code, Way::Use).await?;
            }
            if used.is_none() {
                return Ok(desk.refuse(&msg!("link-code-wrong")));
            }
        }
        let (me, outcome) = match link(&desk, &request.linked(carer, zone)) {
            Ok(linked) => linked,
            Err(refused) => return Ok(desk.refuse(&refused)),
        };
        self.write(held, &request.said(place, me), me, role, outcome, moment)
            .await
    }

    /// Makes a place whose keeper is the member, at home on the server from its first moment.
    async fn link_anew(&self, request: &LinkRequest, zone: Option<String>) -> Result<Answer, StoreError> {
        let moment = self.clock.now();
        let now = whole_second(moment);
        let zone = Zone::get(zone.as_deref().unwrap_or(ZONE_UNSAID)).ok_or(StoreError::Conflict)?;
        let entries = founding(&zone, "");
        let name = lines::fitting_name(&request.name, []);
        let mut book = Book::of(entries.iter().cloned());
        book.names.insert(FIRST_KEEPER, name.clone());
        let place = book.place_at(now);
        let tell = Tell {
            words: &self.words,
            book: &book,
            place: &place,
            now,
            zone: None,
        };
        let desk = Desk {
            tell,
            me: FIRST_KEEPER,
            role: Role::Keeper,
        };
        let answer = match link(&desk, &request.linked(Some(FIRST_KEEPER), None)) {
            // The first answer is told before there is a place to write it to.
            Ok((_, outcome)) => self.told(0, &desk, outcome.reply, &[]).await?,
            Err(refused) => return Ok(desk.refuse(&refused)),
        };
        let change = Change {
            entries: entries.iter().map(row).collect(),
            names: vec![(FIRST_KEEPER.0, name)],
            accounts: vec![(FIRST_KEEPER.0, request.account)],
            server: Some(ServerRow {
                server: request.server,
                channel: request.channel,
            }),
            inbound: Some(InboundRow {
                id: request.id.clone(),
                at_ms: moment.as_millisecond(),
                answer: serde_json::to_string(&answer).expect("an answer becomes JSON"),
            }),
            // A place begins with its first line: no round before it was missed.
            seen_at_ms: Some(now.as_millisecond()),
            next_at_ms: Some(Some(now.as_millisecond())),
            ..Change::default()
        };
        self.shelf.store().create_place(false, &change).await?;
        self.bell.ring();
        Ok(answer)
    }

    /// That an account is another carer's who shares the work now.
    pub(super) async fn taken(
        &self,
        place: PlaceId,
        desk: &Desk<'_>,
        accounts: &[(CarerId, i64)],
    ) -> Result<Option<Refused>, StoreError> {
        for (carer, account) in accounts {
            let owner = self.shelf.store().carer_of(place, *account).await?.map(CarerId);
            if let Some(owner) = owner.filter(|owner| owner != carer)
                && desk.place().carers.contains_key(&owner)
            {
                return Ok(Some(msg!("setup-account-taken", name = desk.tell.carer(owner))));
            }
        }
        Ok(None)
    }

    /// A fresh code by which a keeper's place may be linked once, within 15 minutes.
    pub(super) async fn new_code(&self, place: PlaceId, keeper: CarerId) -> Result<String, StoreError> {
        let mut bytes = [0_u8; LETTERS];
        getrandom::fill(&mut bytes).map_err(|error| StoreError::Other {
            doing: "making a code",
            source: error.to_string().into(),
        })?;
        let code: String = bytes
            .iter()
            .map(|byte| ALPHABET[usize::from(byte & 31)])
            .collect();
        for way in [Way::Look, Way::Use] {
            self.put_code(place, keeper, &code, way).await?;
        }
        Ok(format!("{}-{}", &code[..LETTERS / 2], &code[LETTERS / 2..]))
    }

    async fn put_code(
        &self,
        place: PlaceId,
        keeper: CarerId,
        code: &str,
        way: Way,
    ) -> Result<(), StoreError> {
        let until = self.clock.now().as_millisecond() + CODE_VALID_MIN * 60_000;
        let once = way == Way::Use;
        self.shelf
            .store()
            .key_put(place, keeper.0, &hash(code, way), once, until)
            .await
    }

    async fn forget_code(&self, place: PlaceId, keeper: CarerId, code: &str) -> Result<(), StoreError> {
        let look = hash(code, Way::Look);
        self.shelf.store().key_put(place, keeper.0, &look, false, 0).await
    }

    async fn use_code(&self, code: &str, way: Way) -> Result<Used, StoreError> {
        let now_ms = self.clock.now().as_millisecond();
        let found = self.shelf.store().key_use(&hash(code, way), now_ms).await?;
        Ok(found.map(|(place, carer)| (place, CarerId(carer))))
    }
}

impl LinkRequest {
    fn linked(&self, carer: Option<CarerId>, zone: Option<String>) -> Linked {
        Linked {
            server: (self.server, self.channel),
            account: self.account,
            name: self.name.clone(),
            carer,
            zone,
        }
    }

    fn said(&self, place: PlaceId, carer: CarerId) -> Said {
        Said {
            place,
            carer: carer.0,
            id: self.id.clone(),
            input: Input::Line("/place link".to_owned()),
            photo: None,
        }
    }
}

/// The two keys of a code: by one it may be looked at until its time is over, by the other it is used, once. So a
/// link that is refused does not use it up, and a code that is put back never lives longer than at first.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Way {
    Look,
    Use,
}

/// How many letters a code has: 50 bits, which nobody guesses within its minutes.
const LETTERS: usize = 10;

/// Letters that are not mistaken for each other.
const ALPHABET: [char; 32] = [
    '0', '1', '2', '3', '4', '5', '6', '7', '8', '9', 'A', 'B', 'C', 'D', 'E', 'F', 'G', 'H', 'J', 'K', 'M',
    'N', 'P', 'Q', 'R', 'S', 'T', 'V', 'W', 'X', 'Y', 'Z',
];

/// A code as it was made, however it was typed.
fn plain(code: &str) -> String {
    let letters = code
        .chars()
        .filter(|c| c.is_alphanumeric())
        .flat_map(char::to_uppercase);
    letters
        .map(|letter| match letter {
            'O' => '0',
            'I' | 'L' => '1',
            other => other,
        })
        .collect()
}

/// A code as the store knows it. The byte before it stands in no text, so that nobody who sees a code can pass it
/// at the porch's door, where hashes of texts let people in.
fn hash(code: &str, way: Way) -> String {
    let domain: &[u8] = match way {
        Way::Look => b"\xfflink-look:",
        Way::Use => b"\xfflink:",
    };
    let digest = Sha256::new().chain_update(domain).chain_update(code).finalize();
    digest.iter().map(|byte| format!("{byte:02x}")).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_code_may_be_typed_in_many_ways() {
        for typed in ["7K0QM-1WD98", "7k0qm1wd98", " 7KOQM lWD98 ", "7koqm-iwd98"] {
            assert_eq!(plain(typed), "7K0QM1WD98", "{typed}");
        }
    }

    #[test]
    fn the_keys_of_a_code_differ_from_each_other_and_from_those_of_the_porch() {
        let code = "7K0QM1WD98";
        let porch = |text: &str| {
            let digest = Sha256::digest(text.as_bytes());
            digest
                .iter()
                .map(|byte| format!("{byte:02x}"))
                .collect::<String>()
        };
        let texts = [
            code.to_owned(),
            format!("link:{code}"),
            format!("\u{ff}link:{code}"),
        ];
        assert_ne!(hash(code, Way::Look), hash(code, Way::Use));
        for text in texts {
            assert_ne!(hash(code, Way::Use), porch(&text), "{text}");
        }
        assert_eq!(hash(code, Way::Use).len(), 64);
    }
}
