//! One AAC decoder behind five functions of C: what the worker in a browser and node call. A program holds one song.
use std::cell::RefCell;
use syom::{DecodeOptions, Decoder};

struct Song {
    given: Vec<u8>,
    config: Vec<u8>,
    decoder: Option<Decoder>,
    planes: Vec<Vec<f32>>,
    rate: u32,
}

thread_local! {
    static SONG: RefCell<Song> = const {
        RefCell::new(Song { given: Vec::new(), config: Vec::new(), decoder: None, planes: Vec::new(), rate: 0 })
    };
}

/// Where `size` bytes are to be put before `configure` or `decode`.
#[no_mangle]
pub extern "C" fn room(size: usize) -> *mut u8 {
    SONG.with_borrow_mut(|song| {
        song.given.resize(size, 0);
        song.given.as_mut_ptr()
    })
}

/// Begins a song whose AudioSpecificConfig was put into the room. 0, or -1 for one that cannot be decoded.
#[no_mangle]
pub extern "C" fn configure() -> i32 {
    SONG.with_borrow_mut(|song| {
        song.config = song.given.clone();
        begin(song)
    })
}

fn begin(song: &mut Song) -> i32 {
    song.decoder = Decoder::from_asc(&song.config, DecodeOptions::unbounded()).ok();
    if song.decoder.is_some() { 0 } else { -1 }
}

/// Decodes the access unit in the room: samples a channel, or -1 where it is damaged; then the next begins anew.
#[no_mangle]
pub extern "C" fn decode() -> i32 {
    SONG.with_borrow_mut(|song| {
        let Some(decoder) = song.decoder.as_mut() else { return -1 };
        let (planes, rate) = (&mut song.planes, &mut song.rate);
        let mut count = 0;
        let done = decoder.decode_au(&song.given, |frame| {
            *rate = frame.sample_rate;
            planes.resize_with(frame.planar.len(), Vec::new);
            for (plane, heard) in planes.iter_mut().zip(frame.planar) {
                plane.clear();
                plane.extend_from_slice(&heard[..frame.samples]);
            }
            count = frame.samples as i32;
            Ok(())
        });
        if done.is_ok() { return count }
        begin(song);
        -1
    })
}

/// Samples a second of what was decoded last.
#[no_mangle]
pub extern "C" fn rate() -> u32 {
    SONG.with_borrow(|song| song.rate)
}

#[no_mangle]
pub extern "C" fn channels() -> usize {
    SONG.with_borrow(|song| song.planes.len())
}

/// Where a channel of what was decoded last lies, as 32-bit floats.
#[no_mangle]
pub extern "C" fn plane(channel: usize) -> *const f32 {
    SONG.with_borrow(|song| song.planes.get(channel).map_or(std::ptr::null(), |plane| plane.as_ptr()))
}
