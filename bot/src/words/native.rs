//! Names of native commands in other languages. Only these are translated: a chat platform shows them to whoever has
//! set another language, while lines and answers stay English.

use fluent_bundle::concurrent::FluentBundle;
use fluent_bundle::{FluentArgs, FluentResource};

/// Each language with the platform's codes for it and its file.
const LANGUAGES: [(&[&str], &str); 3] = [
    (&["de"], include_str!("../../locales/de/native.ftl")),
    (&["fr"], include_str!("../../locales/fr/native.ftl")),
    (&["es-ES", "es-419"], include_str!("../../locales/es/native.ftl")),
];

/// The names in every language.
pub(super) struct Native {
    languages: Vec<(&'static [&'static str], FluentBundle<FluentResource>)>,
}

impl Native {
    /// Reads the files.
    ///
    /// # Panics
    /// When one does not parse or an id stands in it twice: both are held by a test.
    pub(super) fn read() -> Self {
        let read = |(codes, text): (&'static [&'static str], &str)| {
            let mut bundle = FluentBundle::new_concurrent(vec![unic_langid::LanguageIdentifier::default()]);
            let resource = FluentResource::try_new(text.to_owned())
                .unwrap_or_else(|(_, errors)| panic!("native.ftl of {codes:?} does not parse: {errors:?}"));
            bundle
                .add_resource(resource)
                .unwrap_or_else(|errors| panic!("native.ftl of {codes:?}: {errors:?}"));
            (codes, bundle)
        };
        Self {
            languages: LANGUAGES.into_iter().map(read).collect(),
        }
    }

    /// A name in every language that has it, by the platform's code of the language.
    pub(super) fn names(&self, id: &str) -> Vec<(&'static str, String)> {
        let mut names = Vec::new();
        for (codes, bundle) in &self.languages {
            let Some(pattern) = bundle.get_message(id).and_then(|found| found.value()) else {
                continue;
            };
            let name = bundle.format_pattern(pattern, Some(&FluentArgs::new()), &mut Vec::new());
            names.extend(codes.iter().map(|code| (*code, name.clone().into_owned())));
        }
        names
    }
}
