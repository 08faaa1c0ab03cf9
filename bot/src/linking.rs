//! stub
use crate::house::House; use crate::chat::blocks::Answer; use crate::store::PlaceId; use crate::words::Message;
pub struct LinkRequest { pub server: i64, pub channel: i64, pub account: i64, pub name: String, pub manages: bool, pub id: String, pub zone: Option<String>, pub code: Option<String> }
impl House {
 pub async fn link(&self, _r: LinkRequest) -> Answer { self.refusal(&Message::new("x")) }
 pub async fn stranger(&self, _p: PlaceId) -> Answer { self.refusal(&Message::new("x")) }
 pub fn unlinked(&self) -> Answer { self.refusal(&Message::new("x")) }
 pub async fn offers(&self, _p: PlaceId, _c: u32, _l: &str, _s: Option<&str>, _o: &str, _t: &str) -> Vec<String> { Vec::new() }
 pub async fn fitting_name(&self, _p: PlaceId, n: &str) -> String { n.to_owned() }
}
