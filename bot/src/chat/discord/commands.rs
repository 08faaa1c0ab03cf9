//! stub
use crate::lines::table::{LineSpec, SubSpec};
use crate::words::Words;
use serenity::all::{CommandData, CreateCommand};
pub struct NativeLine {
    pub line: &'static LineSpec,
    pub sub: Option<&'static SubSpec>,
    pub options: Vec<(&'static str, String)>,
    pub photo: Option<serenity::all::Attachment>,
    pub channel: Option<i64>,
    pub member_name: Option<String>,
}
impl NativeLine {
    pub fn is_link(&self) -> bool {
        false
    }
    pub fn adds_carer(&self) -> bool {
        false
    }
    pub fn option(&self, _n: &str) -> Option<&str> {
        None
    }
}
pub struct Typing {
    pub line: &'static LineSpec,
    pub sub: Option<&'static SubSpec>,
    pub option: &'static str,
    pub typed: String,
}
pub fn line_of(_d: &CommandData) -> Result<NativeLine, String> {
    Err(String::new())
}
pub fn focused(_d: &CommandData) -> Option<Typing> {
    None
}
pub fn commands(_w: &Words) -> Vec<CreateCommand> {
    Vec::new()
}
pub fn fingerprint(_c: &[CreateCommand]) -> String {
    String::new()
}
