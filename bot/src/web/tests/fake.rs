//! A store in memory and a house of a few fixed answers, as much as the web asks of them.

use std::path::Path;
use std::sync::Mutex;
use std::sync::atomic::{AtomicI64, AtomicUsize, Ordering};

use async_trait::async_trait;

use crate::chat::blocks::{Answer, Block, Item};
use crate::chat::paper::{Paper, Room, Section};
use crate::house::{Completion, Input, Me, Said, SheetMade, SheetPage};
use crate::store::{
    CalendarRow, Change, Head, PhotoRow, PlaceId, PorchRow, PostRow, Result, ServerRow, Settled, StandingRow,
    Store, Tail,
};
use crate::web::Hears;

/// A stored key.
struct Key {
    place: PlaceId,
    carer: u32,
    hash: String,
    once: bool,
    until_ms: i64,
}

/// The carer whose span is over; whoever comes after them does not share the work either.
pub(crate) const ENDED: u32 = 9;

/// Transcript, keys and photos in memory.
#[derive(Default)]
pub(crate) struct FakeStore {
    lines: Mutex<Vec<(PlaceId, String, PorchRow)>>,
    keys: Mutex<Vec<Key>>,
    pub(crate) photos: Mutex<Vec<(PlaceId, PhotoRow)>>,
}

#[async_trait]
impl Store for FakeStore {
    async fn porch_add(
        &self,
        place: PlaceId,
        key: &str,
        at_ms: i64,
        only_for: Option<u32>,
        body: &str,
    ) -> Result<PorchRow> {
        let mut lines = self.lines.lock().unwrap();
        if let Some((_, _, row)) = lines.iter().find(|(at, known, _)| *at == place && known == key) {
            return Ok(row.clone());
        }
        let number = |row: &dyn Fn(&PorchRow) -> i64| {
            lines
                .iter()
                .filter(|line| line.0 == place)
                .map(|line| row(&line.2))
                .max()
                .unwrap_or(0)
                + 1
        };
        let (id, revision) = (number(&|row| row.id), number(&|row| row.revision));
        let row = PorchRow {
            id,
            revision,
            at_ms,
            only_for,
            body: body.to_owned(),
        };
        lines.push((place, key.to_owned(), row.clone()));
        Ok(row)
    }

    async fn porch_edit(&self, place: PlaceId, id: i64, body: &str) -> Result<Option<PorchRow>> {
        let mut lines = self.lines.lock().unwrap();
        let last = lines
            .iter()
            .filter(|line| line.0 == place)
            .map(|line| line.2.revision)
            .max();
        let found = lines.iter_mut().find(|line| line.0 == place && line.2.id == id);
        Ok(found.map(|(_, _, row)| {
            row.revision = last.unwrap_or(0) + 1;
            row.body = body.to_owned();
            row.clone()
        }))
    }

    async fn porch_after(&self, place: PlaceId, revision: i64, limit: i64) -> Result<Vec<PorchRow>> {
        let lines = self.lines.lock().unwrap();
        let new = lines
            .iter()
            .filter(|line| line.0 == place && line.2.revision > revision);
        let mut rows: Vec<PorchRow> = new.map(|line| line.2.clone()).collect();
        rows.sort_by_key(|row| row.revision);
        let surplus = rows.len().saturating_sub(usize::try_from(limit).unwrap());
        Ok(rows.split_off(surplus))
    }

    async fn key_put(&self, place: PlaceId, carer: u32, hash: &str, once: bool, until_ms: i64) -> Result<()> {
        self.keys.lock().unwrap().push(Key {
            place,
            carer,
            hash: hash.to_owned(),
            once,
            until_ms,
        });
        Ok(())
    }

    async fn key_use(&self, hash: &str, now_ms: i64) -> Result<Option<(PlaceId, u32)>> {
        let mut keys = self.keys.lock().unwrap();
        let Some(at) = keys
            .iter()
            .position(|key| key.hash == hash && key.until_ms > now_ms)
        else {
            return Ok(None);
        };
        let lets_in = (keys[at].place, keys[at].carer);
        if keys[at].once {
            keys.remove(at);
        }
        Ok(Some(lets_in))
    }

    async fn photo(&self, place: PlaceId, seq: i64) -> Result<Option<PhotoRow>> {
        let photos = self.photos.lock().unwrap();
        Ok(photos
            .iter()
            .find(|(at, photo)| *at == place && photo.seq == seq)
            .map(|(_, photo)| photo.clone()))
    }

    async fn create_place(&self, _practice: bool, _change: &Change) -> Result<PlaceId> {
        unreachable!("the web asks for no such thing")
    }

    async fn places(&self) -> Result<Vec<PlaceId>> {
        unreachable!("the web asks for no such thing")
    }

    async fn head(&self, _place: PlaceId) -> Result<Option<Head>> {
        unreachable!("the web asks for no such thing")
    }

    async fn tail(&self, _place: PlaceId, _after_seq: i64) -> Result<Tail> {
        unreachable!("the web asks for no such thing")
    }

    async fn commit(&self, _place: PlaceId, _expected_version: i64, _change: &Change) -> Result<i64> {
        unreachable!("the web asks for no such thing")
    }

    async fn inbound(&self, _place: PlaceId, _id: &str) -> Result<Option<String>> {
        unreachable!("the web asks for no such thing")
    }

    async fn known_keys(&self, _place: PlaceId, _keys: &[String]) -> Result<Vec<String>> {
        unreachable!("the web asks for no such thing")
    }

    async fn posts(&self, _place: PlaceId, _since_ms: i64) -> Result<Vec<PostRow>> {
        unreachable!("the web asks for no such thing")
    }

    async fn post(&self, _place: PlaceId, _id: i64) -> Result<Option<PostRow>> {
        unreachable!("the web asks for no such thing")
    }

    async fn standings(&self, _place: PlaceId) -> Result<Vec<StandingRow>> {
        unreachable!("the web asks for no such thing")
    }

    async fn due_places(&self, _now_ms: i64, _limit: i64) -> Result<Vec<PlaceId>> {
        unreachable!("the web asks for no such thing")
    }

    async fn next_moment(&self) -> Result<Option<i64>> {
        unreachable!("the web asks for no such thing")
    }

    async fn claim(
        &self,
        _now_ms: i64,
        _lease_until_ms: i64,
        _lease: &str,
        _limit: i64,
    ) -> Result<Vec<PostRow>> {
        unreachable!("the web asks for no such thing")
    }

    async fn settle(&self, _place: PlaceId, _post: i64, _lease: &str, _settled: &Settled) -> Result<bool> {
        unreachable!("the web asks for no such thing")
    }

    async fn calendar_put(
        &self,
        _place: PlaceId,
        _carer: u32,
        _hash: &str,
        _alarm_min: Option<i64>,
        _seed: &str,
    ) -> Result<()> {
        unreachable!("the web asks for no such thing")
    }

    async fn calendar_end(&self, _place: PlaceId, _carer: u32) -> Result<bool> {
        unreachable!("the web asks for no such thing")
    }

    async fn calendar_of(&self, _place: PlaceId, _carer: u32) -> Result<Option<Option<i64>>> {
        unreachable!("the web asks for no such thing")
    }

    async fn calendar(&self, _hash: &str) -> Result<Option<CalendarRow>> {
        unreachable!("the web asks for no such thing")
    }

    async fn place_of_server(&self, _server: i64) -> Result<Option<PlaceId>> {
        unreachable!("the web asks for no such thing")
    }

    async fn server_of(&self, _place: PlaceId) -> Result<Option<ServerRow>> {
        unreachable!("the web asks for no such thing")
    }

    async fn servers(&self) -> Result<Vec<(PlaceId, ServerRow)>> {
        unreachable!("the web asks for no such thing")
    }

    async fn carer_of(&self, _place: PlaceId, _account: i64) -> Result<Option<u32>> {
        unreachable!("the web asks for no such thing")
    }

    async fn accounts(&self, _place: PlaceId) -> Result<Vec<(u32, i64)>> {
        unreachable!("the web asks for no such thing")
    }

    async fn kept(&self, _name: &str) -> Result<Option<String>> {
        unreachable!("the web asks for no such thing")
    }

    async fn keep(&self, _name: &str, _value: &str) -> Result<()> {
        unreachable!("the web asks for no such thing")
    }

    async fn forget_photos(&self, _before_ms: i64) -> Result<u64> {
        unreachable!("the web asks for no such thing")
    }

    async fn backup(&self, _file: &Path) -> Result<()> {
        unreachable!("the web asks for no such thing")
    }

    async fn close(&self) {}
}

/// A house that repeats what it hears: `/why` privately, `/no` as a refusal.
#[derive(Default)]
pub(crate) struct FakeHouse {
    pub(crate) now: AtomicI64,
    pub(crate) heard: AtomicUsize,
    pub(crate) photos: Mutex<Vec<PhotoRow>>,
    pub(crate) calendar: Mutex<String>,
}

/// The one token that leads to a calendar.
pub(crate) const CALENDAR_TOKEN: &str = "cafe";

#[async_trait]
impl Hears for FakeHouse {
    async fn hear(&self, said: Said) -> Answer {
        self.heard.fetch_add(1, Ordering::SeqCst);
        self.photos.lock().unwrap().extend(said.photo);
        let text = match said.input {
            Input::Line(line) => line,
            Input::Press { code, text } => format!("{code}: {}", text.unwrap_or_default()),
        };
        Answer {
            ok: !text.starts_with("/no"),
            private: text.starts_with("/why"),
            blocks: vec![Block::Title {
                text: format!("Heard: {text}"),
            }],
            turns: Vec::new(),
        }
    }

    async fn complete(&self, _place: PlaceId, _carer: u32, line: &str) -> Vec<Completion> {
        vec![Completion {
            line: format!("{line} north"),
            hint: "North".to_owned(),
        }]
    }

    async fn me(&self, place: PlaceId, carer: u32) -> Option<Me> {
        (carer < ENDED).then(|| Me {
            name: format!("Carer {carer}"),
            role: "keeper".to_owned(),
            place: format!("Place {place}"),
            zone: "Europe/Berlin".to_owned(),
        })
    }

    async fn sheet(&self, place: PlaceId, asker: u32, page: SheetPage) -> Result<SheetMade> {
        if asker != page.carer {
            return Ok(Err(format!("<b>Not yours</b>, carer {asker}.")));
        }
        let title = format!("Place {place}: {:?} to {:?}", page.from, page.to);
        let text = "<script>alert('shell')</script> & \"sand\"".to_owned();
        let items = vec![Item {
            text: text.clone(),
            mark: None,
            settled: false,
            answers: Vec::new(),
        }];
        let blocks = vec![
            Block::Title { text: text.clone() },
            Block::Text { text: text.clone() },
            Block::Caution { text: text.clone() },
            Block::Items { items },
            Block::Table {
                head: vec![text.clone()],
                rows: vec![vec![text.clone(), text.clone()]],
            },
        ];
        let section = |room| Section {
            heading: text.clone(),
            room,
            blocks: blocks.clone(),
        };
        Ok(Ok(Paper {
            title,
            lead: vec![text.clone()],
            sections: vec![section(Room::Wide), section(Room::Columns)],
        }))
    }

    /// What lies beside entry 2 is carer 1's alone.
    async fn may_see(&self, _place: PlaceId, carer: u32, seq: i64) -> Result<bool> {
        Ok(seq != 2 || carer == 1)
    }

    async fn calendar(&self, token: &str) -> Result<Option<String>> {
        Ok((token == CALENDAR_TOKEN).then(|| self.calendar.lock().unwrap().clone()))
    }

    async fn ended(&self, _place: PlaceId, carer: u32) -> Option<String> {
        (carer == ENDED).then(|| "Your span ended on Sunday 1 March: ask Carer 1.".to_owned())
    }

    fn now_ms(&self) -> i64 {
        self.now.load(Ordering::SeqCst)
    }

    fn words(&self) -> serde_json::Value {
        serde_json::json!({"porch-title": "Wrackline", "porch-outside-text": "Print a <link>."})
    }
}
