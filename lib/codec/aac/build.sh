#!/usr/bin/env bash
# Makes aac.wasm anew from Rust; nothing else here needs Rust. The decoder is the package syom, pinned in Cargo.toml and MIT-licensed
# (LICENSE.syom). With a toolchain that knows the target (rustup target add wasm32-unknown-unknown) no more is needed; with one that has
# its sources only, as Debian's rustc-web, rust-web-src and lld, set BUILD_STD=1, RUSTC and CARGO_TARGET_WASM32_UNKNOWN_UNKNOWN_LINKER.
# aac.wasm here was made by rustc 1.96.0 and BUILD_STD=1: it is smaller so, since the library is compiled for size, too.
set -euo pipefail
cd "$(dirname "$0")"
std=()
if [ -n "${BUILD_STD:-}" ]; then
  export RUSTC_BOOTSTRAP=1
  std=(-Zbuild-std=std,panic_abort -Zbuild-std-features=optimize_for_size)
fi
cargo build --release --target wasm32-unknown-unknown --target-dir ../../../build/aac "${std[@]}"
cp ../../../build/aac/wasm32-unknown-unknown/release/larkstep_aac.wasm aac.wasm
