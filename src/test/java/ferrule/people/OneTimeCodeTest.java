package ferrule.people;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.OptionalLong;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class OneTimeCodeTest {

  private static final OneTimeCode PUBLISHED =
      new OneTimeCode("12345678901234567890".getBytes(StandardCharsets.US_ASCII));

  // RFC 6238, appendix B, the rows of SHA-1
  @ParameterizedTest
  @CsvSource({
      "59, 94287082", "1111111109, 07081804", "1111111111, 14050471", "1234567890, 89005924", "2000000000, 69279037",
      "20000000000, 65353130"})
  void makesThePublishedCodesOfTimes(long second, String code) {
    assertEquals(code, PUBLISHED.at(OneTimeCode.step(Instant.ofEpochSecond(second)), 8));
    assertEquals(code.substring(2), PUBLISHED.at(Instant.ofEpochSecond(second)));
  }

  // RFC 4226, appendix D
  @ParameterizedTest
  @CsvSource({
      "0, 755224", "1, 287082", "2, 359152", "3, 969429", "4, 338314", "5, 254676", "6, 287922", "7, 162583",
      "8, 399871", "9, 520489"})
  void makesThePublishedCodesOfCounters(long counter, String code) {
    assertEquals(code, PUBLISHED.at(counter, 6));
  }

  // RFC 4648, section 10
  @ParameterizedTest
  @CsvSource({"f, MY", "fo, MZXQ", "foo, MZXW6", "foob, MZXW6YQ", "fooba, MZXW6YTB", "foobar, MZXW6YTBOI"})
  void writesSecretsAsPublished(String plain, String written) {
    assertEquals(written, new OneTimeCode(plain.getBytes(StandardCharsets.US_ASCII)).base32());
    assertEquals(plain, new String(OneTimeCode.parse(written).secret(), StandardCharsets.US_ASCII));
  }

  @Test
  void aCodeIsRightOneStepBeforeAndAfterAndNoFurther() {
    Instant now = Instant.ofEpochSecond(1_234_567_890);
    String code = PUBLISHED.at(now);
    assertTrue(PUBLISHED.step(code, now.plusSeconds(30), 0).isPresent());
    assertTrue(PUBLISHED.step(code, now.minusSeconds(30), 0).isPresent());
    assertEquals(OptionalLong.empty(), PUBLISHED.step(code, now.plusSeconds(60), 0));
    assertEquals(OptionalLong.empty(), PUBLISHED.step(code, now.minusSeconds(60), 0));
  }

  @Test
  void aCodeIsRightOnlyOnceAndNoneBeforeItAfterwards() {
    Instant now = Instant.ofEpochSecond(1_234_567_890);
    long step = PUBLISHED.step(PUBLISHED.at(now), now, 0).orElseThrow();
    assertEquals(OptionalLong.empty(), PUBLISHED.step(PUBLISHED.at(now), now, step));
    assertEquals(OptionalLong.empty(), PUBLISHED.step(PUBLISHED.at(now.minusSeconds(30)), now, step));
    assertTrue(PUBLISHED.step(PUBLISHED.at(now.plusSeconds(30)), now.plusSeconds(30), step).isPresent());
  }

  @Test
  void theAddressIsThatWhichAuthenticatorsRead() {
    assertEquals(
        "otpauth://totp/Ferrule:wren%40bench?secret=GEZDGNBVGY3TQOJQGEZDGNBVGY3TQOJQ&issuer=Ferrule",
        PUBLISHED.address("Ferrule", "wren@bench"));
  }
}
