package ferrule.ledger;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import org.junit.jupiter.api.Test;

class CanonicalJsonTest {

  // cyberphone/json-canonicalization, testdata/input and output: values, weird, structures (test data of RFC 8785)
  @Test
  void canonicalFormIsThatOfTheReferenceData() {
    assertEquals(
        "{\"escaping\":\"€$\\u000f\\nA'B\\\"\\\\\\\\\\\"/\",\"literals\":[null,true,false],"
            + "\"numbers\":[1e+30,4.5,333333333.3333333,0.002,1e-27]}",
        CanonicalJson.canonical(
            "{\"numbers\": [1E30, 4.50, 333333333.33333329, 2e-3, 0.000000000000000000000000001],"
                + "\"escaping\": \"\\u20ac$\\u000F\\u000aA'\\u0042\\u0022\\u005c\\\\\\\"\\/\","
                + "\"literals\": [null, true, false]}"));
    assertEquals(
        "{\"1\":\"One\",\"</script>\":\"Browser Challenge\",\"\u0080\":\"Control\u007f\","
            + "\"ö\":\"Latin Small Letter O With Diaeresis\",\"€\":\"Euro Sign\",\"\ud83d\ude02\":\"Smiley\","
            + "\"\ufb33\":\"Hebrew Letter Dalet With Dagesh\"}",
        CanonicalJson.canonical(
            "{\"\\u20ac\": \"Euro Sign\",\"1\": \"One\",\"\\u0080\": \"Control\\u007f\","
                + "\"\\ud83d\\ude02\": \"Smiley\",\"\\u00f6\": \"Latin Small Letter O With Diaeresis\","
                + "\"\\ufb33\": \"Hebrew Letter Dalet With Dagesh\",\"</script>\": \"Browser Challenge\"}"));
    assertEquals(
        "{\"\":\"empty\",\"1\":{\"\\n\":56,\"f\":{\"F\":5,\"f\":\"hi\"}},\"10\":{},\"111\":[{}],\"A\":{},\"a\":{}}",
        CanonicalJson.canonical(
            "{\"1\": {\"f\": {\"f\": \"hi\",\"F\": 5} ,\"\\n\": 56.0},\"10\": { },\"\": \"empty\",\"a\": { },"
                + "\"111\": [ { } ],\"A\": { }}"));
  }

  @Test
  void whatIsNotJsonIsRefused() {
    assertThrows(IllegalArgumentException.class, () -> CanonicalJson.canonical("{\"a\":"));
  }
}
