//! All tests of the program, one module a feature.

#[cfg(feature = "recogniser")]
mod absurd;
mod alarms;
mod allergens;
mod asked;
mod at_scale;
mod attacks;
mod attention;
#[cfg(all(feature = "recogniser", feature = "sound"))]
mod audio;
mod bakes;
mod blindfold;
#[cfg(all(feature = "recogniser", feature = "sound"))]
mod card;
mod cautions;
mod choices;
mod clocks;
mod conversation;
mod dinner;
mod edited;
mod emergencies;

mod faults;
mod formula_faults;
mod free_speech;
#[cfg(feature = "recogniser")]
mod hearing;
mod house_style;
#[cfg(feature = "keypad")]
mod keypad_live;
#[cfg(feature = "keypad")]
mod keys;
mod killed;
#[cfg(all(feature = "recogniser", feature = "sound"))]
mod killed_aloud;
mod limits;
mod linked_data;
mod live;
mod long_day;
mod meant;
mod measure_conversions;
mod measure_lines;
mod measure_practice;
mod measure_properties;
mod measure_published;
mod measure_sources;
mod measure_speed;
mod mouth;
mod mutations;
mod number_words;
mod outputs;
mod printed;
mod program;
mod quantity_questions;
mod readings;
mod rehearsal;
mod remembers;
mod resumes;
mod round_trip;
mod sample;
mod scale_live;
mod scaling;
mod screens;
mod service;
mod settings;
mod shelf;
mod spoken_grammar;
mod steering;
mod still_good;
mod taking_in;
#[cfg(all(feature = "recogniser", feature = "sound"))]
mod terminal;
mod transcripts;
mod trust;
mod two_ways;
mod typed_questions;
#[cfg(all(feature = "recogniser", feature = "sound"))]
mod unheard;
mod versions;
mod voices;
mod walls;
mod what_recipes_say;
mod whole_dinner;
#[cfg(all(feature = "recogniser", feature = "sound"))]
mod word_files;
mod worst;
mod writing;
