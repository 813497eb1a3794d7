package ferrule.ledger;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class CanonicalJsonTest {

  // cyberphone/json-canonicalization, testdata/input and output: values, weird, structures (test data of RFC 8785)
  private static final List<String[]> REFERENCE = List.of(
      new String[][] {
        {
            "{\"numbers\": [1E30, 4.50, 333333333.33333329, 2e-3, 0.000000000000000000000000001],"
                + "\"escaping\": \"\\u20ac$\\u000F\\u000aA'\\u0042\\u0022\\u005c\\\\\\\"\\/\","
                + "\"literals\": [null, true, false]}",
            "{\"escaping\":\"€$\\u000f\\nA'B\\\"\\\\\\\\\\\"/\",\"literals\":[null,true,false],"
            + "\"numbers\":[1e+30,4.5,333333333.3333333,0.002,1e-27]}"
        },
        {
            "{\"\\u20ac\": \"Euro Sign\",\"1\": \"One\",\"\\u0080\": \"Control\\u007f\","
                + "\"\\ud83d\\ude02\": \"Smiley\",\"\\u00f6\": \"Latin Small Letter O With Diaeresis\","
                + "\"\\ufb33\": \"Hebrew Letter Dalet With Dagesh\",\"</script>\": \"Browser Challenge\"}",
            "{\"1\":\"One\",\"</script>\":\"Browser Challenge\",\"\u0080\":\"Control\u007f\","
            + "\"ö\":\"Latin Small Letter O With Diaeresis\",\"€\":\"Euro Sign\",\"\ud83d\ude02\":\"Smiley\","
            + "\"\ufb33\":\"Hebrew Letter Dalet With Dagesh\"}"
        },
        {
            "{\"1\": {\"f\": {\"f\": \"hi\",\"F\": 5} ,\"\\n\": 56.0},\"10\": { },\"\": \"empty\",\"a\": { },"
                + "\"111\": [ { } ],\"A\": { }}",
            "{\"\":\"empty\",\"1\":{\"\\n\":56,\"f\":{\"F\":5,\"f\":\"hi\"}},\"10\":{},\"111\":[{}],\"A\":{},\"a\":{}}"
        }
      });

  @Test
  void canonicalFormIsThatOfTheReferenceData() {
    for (String[] pair : REFERENCE) {
      assertEquals(pair[1], CanonicalJson.canonical(pair[0]));
    }
  }

  // the same data; the log's own writer is given what a parser made of them
  @Test
  void theLogsOwnWriterWritesTheReferenceForm() throws Exception {
    for (String[] pair : REFERENCE) {
      assertEquals(pair[1], CanonicalJson.of(new ObjectMapper().readTree(pair[0])));
    }
  }

  // RFC 8785, appendix B: bits of a double and its text
  @ParameterizedTest
  @CsvSource({
    "0000000000000000, 0",
    "8000000000000000, 0",
    "0000000000000001, 5e-324",
    "8000000000000001, -5e-324",
    "7fefffffffffffff, 1.7976931348623157e+308",
    "4340000000000000, 9007199254740992",
    "c340000000000000, -9007199254740992",
    "4430000000000000, 295147905179352830000",
    "44b52d02c7e14af5, 9.999999999999997e+22",
    "44b52d02c7e14af6, 1e+23",
    "444b1ae4d6e2ef4e, 999999999999999700000",
    "444b1ae4d6e2ef50, 1e+21",
    "3eb0c6f7a0b5ed8d, 0.000001",
    "41b3de4355555553, 333333333.3333332",
    "becbf647612f3696, -0.0000033333333333333333"
  })
  void numbersAreWrittenAsPublished(String bits, String text) {
    double number = Double.longBitsToDouble(Long.parseUnsignedLong(bits, 16));
    assertEquals(text, CanonicalJson.of(JsonNodeFactory.instance.numberNode(number)));
  }

  @Test
  void halfOfASurrogatePairAndWhatIsNoNumberAreRefused() {
    assertThrows(
        IllegalArgumentException.class, () -> CanonicalJson.of(JsonNodeFactory.instance.textNode("a\ud83d")));
    assertThrows(
        IllegalArgumentException.class, () -> CanonicalJson.of(JsonNodeFactory.instance.numberNode(Double.NaN)));
  }

  @Test
  void whatIsNotJsonIsRefused() {
    assertThrows(IllegalArgumentException.class, () -> CanonicalJson.canonical("{\"a\":"));
  }
}
