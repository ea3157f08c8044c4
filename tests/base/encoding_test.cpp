#include <doctest/doctest.h>

#include <string>

#include "base/base64.hpp"
#include "base/sha256.hpp"

using namespace padchart;

TEST_CASE("letters for bytes are those of the standard") {
    // RFC 4648, section 10.
    const std::pair<std::string, std::string> vectors[] = {{"", ""},
                                                           {"f", "Zg=="},
                                                           {"fo", "Zm8="},
                                                           {"foo", "Zm9v"},
                                                           {"foob", "Zm9vYg=="},
                                                           {"fooba", "Zm9vYmE="},
                                                           {"foobar", "Zm9vYmFy"}};
    for (const auto& [bytes, letters] : vectors) {
        CHECK(to_base64(bytes) == letters);
        CHECK(from_base64(letters) == bytes);
    }
}

TEST_CASE("every byte comes back from its letters whatever a mail did to the lines") {
    std::string bytes;
    for (int i = 0; i < 1000; ++i)
        bytes += static_cast<char>(i * 7 % 256);
    const std::string letters = to_base64(bytes, 76);
    CHECK(letters.find('\n') == 76);
    CHECK(from_base64(letters) == bytes);
    std::string mailed;
    for (const char c : letters)
        mailed += c == '\n' ? std::string("\r\n  ") : std::string(1, c);
    CHECK(from_base64(mailed) == bytes);
}

TEST_CASE("letters that were cut or altered are refused") {
    for (const char* text : {"Zg", "Zg=", "Zm9v*", "Z===", "Zg==Zg==", "Zm9\xC3\xA9"})
        CHECK_FALSE(from_base64(text).has_value());
}

TEST_CASE("the hash of a text is that of the standard") {
    // FIPS 180-4 example values (NIST, "SHA-256 Example"): one block, two blocks, and the million letters a.
    CHECK(sha256_hex("abc") == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
    CHECK(sha256_hex("abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq") ==
          "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1");
    CHECK(sha256_hex("") == "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855");
    CHECK(sha256_hex(std::string(1'000'000, 'a')) ==
          "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0");
    CHECK(sha256("abc").size() == 32);
}
