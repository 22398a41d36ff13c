// Several numbers side by side, by the compiler's vector extensions: float, double, or 4, 8 or 16 floats. Every
// operation here is exact in IEEE arithmetic or a fixed sequence of such, so that all widths give the same bits.
// Templates on the lane type only: files compiled for different processors must not share a function.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <type_traits>

#if defined(__wasm_simd128__)
#include <wasm_simd128.h>
#elif defined(__SSE2__)
#include <immintrin.h>
#endif

namespace stanch::physiology {

template <int width>
struct LaneType;
template <>
struct LaneType<1> {
  using Float = float;
  using Int = std::int32_t;
};
template <>
struct LaneType<4> {
  using Float = float __attribute__((vector_size(16)));
  using Int = std::int32_t __attribute__((vector_size(16)));
};
template <>
struct LaneType<8> {
  using Float = float __attribute__((vector_size(32)));
  using Int = std::int32_t __attribute__((vector_size(32)));
};
template <>
struct LaneType<16> {
  using Float = float __attribute__((vector_size(64)));
  using Int = std::int32_t __attribute__((vector_size(64)));
};

/// What one lane holds.
template <class V>
using Scalar = std::conditional_t<std::is_same_v<V, double>, double, float>;
template <class V>
inline constexpr std::size_t lanes_of = sizeof(V) / (std::is_same_v<V, double> ? 8 : 4);

template <class V>
[[gnu::always_inline]] inline V load(const Scalar<V>* from) {
  V out;
  __builtin_memcpy(&out, from, sizeof out);
  return out;
}
template <class V>
[[gnu::always_inline]] inline void store(Scalar<V>* to, V value) {
  __builtin_memcpy(to, &value, sizeof value);
}
template <class V>
[[gnu::always_inline]] inline V splat(Scalar<V> value) {
  return V{} + value;
}
/// a < b ? a : b, so b where either is not a number.
template <class V>
[[gnu::always_inline]] inline V lesser(V a, V b) {
#if defined(__wasm_simd128__)
  if constexpr (lanes_of<V> == 4) return V(wasm_f32x4_pmin(v128_t(b), v128_t(a)));
#endif
  return a < b ? a : b;
}
template <class V>
[[gnu::always_inline]] inline V greater(V a, V b) {
#if defined(__wasm_simd128__)
  if constexpr (lanes_of<V> == 4) return V(wasm_f32x4_pmax(v128_t(b), v128_t(a)));
#endif
  return a > b ? a : b;
}
template <class V>
[[gnu::always_inline]] inline V positive(V a) {
  return greater<V>(a, V{});
}
template <class V>
[[gnu::always_inline]] inline V clamp(V x, Scalar<V> low, Scalar<V> high) {
  return lesser<V>(greater<V>(x, splat<V>(low)), splat<V>(high));
}

/// Correctly rounded on every target.
template <class V>
[[gnu::always_inline]] inline V square_root(V x) {
  if constexpr (std::is_same_v<V, double>) {
    return __builtin_sqrt(x);
  } else if constexpr (std::is_same_v<V, float>) {
    return __builtin_sqrtf(x);
  } else {
#if defined(__wasm_simd128__)
    if constexpr (lanes_of<V> == 4) return V(wasm_f32x4_sqrt(v128_t(x)));
#elif defined(__SSE2__)
    if constexpr (lanes_of<V> == 4) return V(_mm_sqrt_ps(__m128(x)));
#if defined(__AVX__)
    if constexpr (lanes_of<V> == 8) return V(_mm256_sqrt_ps(__m256(x)));
#endif
#if defined(__AVX512F__)
    if constexpr (lanes_of<V> == 16) return V(_mm512_sqrt_ps(__m512(x)));
#endif
#endif
    V out = x;
    for (std::size_t i = 0; i < lanes_of<V>; ++i) out[i] = __builtin_sqrtf(x[i]);
    return out;
  }
}

/// z / sqrt(1 + z^2): rises from -1 to 1, slope 1 at 0.
template <class V>
[[gnu::always_inline]] inline V saturate(V z) {
  return z / square_root<V>(Scalar<V>(1) + z * z);
}

/// e^x in float within 2 units in the last place, for x held to -80..80. Source: range reduction by ln 2 in two parts
/// and a polynomial of degree 5 (Cephes expf, coefficients from memory); the error is measured in kernel_test.cpp.
template <int width>
[[gnu::always_inline]] inline LaneType<width>::Float exponential(typename LaneType<width>::Float x) {
  using V = LaneType<width>::Float;
  using I = LaneType<width>::Int;
  x = clamp<V>(x, -80.0F, 80.0F);
  constexpr float magic = 12582912.0F;  // 1.5 * 2^23: adding it rounds to a whole number in the low bits
  const V shifted = x * 1.44269504088896341F + magic;
  const V n = shifted - magic;
  const V r = (x - n * 0.693359375F) - n * -2.12194440e-4F;
  V p = r * 1.9875691500e-4F + 1.3981999507e-3F;
  p = p * r + 8.3334519073e-3F;
  p = p * r + 4.1665795894e-2F;
  p = p * r + 1.6666665459e-1F;
  p = p * r + 5.0000001201e-1F;
  const V y = (p * r) * r + r + 1.0F;
  I bits;
  __builtin_memcpy(&bits, &shifted, sizeof bits);
  bits = (bits - (0x4B400000 - 127)) << 23;
  V scale;
  __builtin_memcpy(&scale, &bits, sizeof scale);
  return y * scale;
}

}  // namespace stanch::physiology
