#pragma once
// Several numbers that go the same way through one calculation, in registers.

#include <cstddef>
#include <cstring>

namespace padchart::analysis {

// Lanes side by side in registers of 16 bytes, which every 64-bit processor has. Written out with the compilers' own
// vector type (GCC and Clang): loops over lanes were found to be left scalar, wider types to go through memory.
template <class Number, std::size_t Lanes>
struct Pack {
    typedef Number Register __attribute__((vector_size(16)));
    static constexpr std::size_t kWide = 16 / sizeof(Number);
    static constexpr std::size_t kCount = Lanes / kWide;
    Register part[kCount];

    // Register by register: a copy of the whole array would go through memory.
    static Pack load(const Number* from) {
        Pack p; // NOLINT(cppcoreguidelines-pro-type-member-init): every register is set below
        for (std::size_t i = 0; i < kCount; ++i) {
            Register loaded;
            std::memcpy(&loaded, from + i * kWide, sizeof loaded);
            p.part[i] = loaded;
        }
        return p;
    }
    static Pack all(Number value) {
        Pack p; // NOLINT(cppcoreguidelines-pro-type-member-init): every register is set below
        for (std::size_t i = 0; i < kCount; ++i)
            p.part[i] = Register{} + value;
        return p;
    }
    void store(Number* to) const {
        for (std::size_t i = 0; i < kCount; ++i) {
            const Register own = part[i];
            std::memcpy(to + i * kWide, &own, sizeof own);
        }
    }

    template <class Operation>
    static Pack of(const Pack& a, const Pack& b, Operation operation) {
        Pack p; // NOLINT(cppcoreguidelines-pro-type-member-init): every register is set below
        for (std::size_t i = 0; i < kCount; ++i)
            p.part[i] = operation(a.part[i], b.part[i]);
        return p;
    }
    friend Pack operator+(const Pack& a, const Pack& b) {
        return of(a, b, [](Register x, Register y) -> Register { return x + y; });
    }
    friend Pack operator-(const Pack& a, const Pack& b) {
        return of(a, b, [](Register x, Register y) -> Register { return x - y; });
    }
    friend Pack operator*(const Pack& a, const Pack& b) {
        return of(a, b, [](Register x, Register y) -> Register { return x * y; });
    }
    friend Pack larger(const Pack& a, const Pack& b) {
        return of(a, b, [](Register x, Register y) -> Register { return x > y ? x : y; });
    }
};

} // namespace padchart::analysis
