package ferrule.people;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class PasswordRuleTest {

  private static final List<String> WREN = List.of("wren.aldous", "Wren Aldous");

  @ParameterizedTest
  @ValueSource(strings = {"copper kettle", "brass lantern", "river ledger", "a grey heron stands still", "Ofen-Kachel 7 blau"})
  void wordsThatHaveNothingToDoWithEachOtherAreTaken(String password) {
    assertEquals(Optional.empty(), PasswordRule.refusal(password, WREN));
  }

  @ParameterizedTest
  @ValueSource(strings = {"copperkettl", "x", "", "🎺🎺🎺🎺🎺🎺"})
  void fewerThanTwelveCharactersAreNot(String password) {
    assertTrue(PasswordRule.refusal(password, WREN).orElseThrow().contains("at least 12 characters"));
  }

  // 1qaz2wsx3edc, qwerty123456 and q1w2e3r4t5y6 are among the first hundred of the list with twelve characters
  @ParameterizedTest
  @ValueSource(strings = {
      "1qaz2wsx3edc", "QWERTY123456", "q1w2e3r4t5y6", "Sunshine2026!!", "123trustno123", "princess!!!!!!!", "!!!!letmein!!!!"})
  void whatIsInManyBreachesIsNotWithDigitsAroundItEither(String password) {
    assertTrue(PasswordRule.refusal(password, WREN).orElseThrow().contains("tried first"), password);
  }

  @ParameterizedTest
  @ValueSource(strings = {"zzzzzzzzzzzzz", "abzabzabzabzab", "defghijklmnop", "67890123456789", "zyxwvutsrqpo"})
  void oneThingOverAndOverIsNot(String password) {
    assertTrue(PasswordRule.refusal(password, WREN).isPresent(), password);
  }

  @ParameterizedTest
  @ValueSource(strings = {"wren.aldous1", "Wren Aldous!!", "ferrule wren aldous", "WrenAldous2026"})
  void onesOwnNameIsNot(String password) {
    assertTrue(PasswordRule.refusal(password, WREN).isPresent(), password);
  }

  @Test
  void theListHoldsTheThousandsThatMatter() {
    // OWASP ASVS 5.0, 6.2.4: at least the top 3000 that match the application's own rule; here 44,150 of twelve and more
    assertTrue(BreachedList.shipped().size() > 70_000, "listed: " + BreachedList.shipped().size());
  }

  @Test
  void almostNoRandomPasswordIsTakenForAListedOne() {
    java.util.Random random = new java.util.Random(7);
    int listed = 0;
    for (int i = 0; i < 100_000; i++) {
      if (BreachedList.shipped().contains("x" + Long.toHexString(random.nextLong()) + i)) {
        listed++;
      }
    }
    assertTrue(listed <= 12, "1.7 are expected, more than 12 have a chance below one in a million; found " + listed);
  }
}
