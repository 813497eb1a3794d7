package ferrule.app;

import java.net.URLEncoder;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.UUID;

/**
 * What is sent in place of a field's value.
 *
 * @param words what it is
 * @param encoded each value as it stands in a form's body; none if the field is left out
 */
record Hostile(String words, List<String> encoded) {

  /** What a page would hold if markup that was sent became part of it; none of it stands in any page of ours. */
  static final List<String> MARKS = List.of(
      "<script>window.__ran", "<img src=x onerror=window.__ran", "<svg onload=window.__ran", "\" onfocus=\"window.__ran",
      "href=\"javascript:window.__ran", "7006652");

  private static final String DIGITS = "9".repeat(400);

  /** All of them, the most telling first. */
  static List<Hostile> all() {
    List<Hostile> all = new ArrayList<>();
    add(all, "a script", "<script>window.__ran=1</script>");
    add(all, "NUL", "a\0b");
    add(all, "100,000 characters", "a".repeat(100_000));
    raw(all, "half a surrogate pair", "%ED%A0%80");
    add(all, "an attribute", "x\" onfocus=\"window.__ran=1\" autofocus=\"' onfocus='window.__ran=1");
    add(all, "no number", "NaN");
    add(all, "an id of nothing", UUID.randomUUID().toString());
    add(all, "a late day", "+999999999-12-31");
    all.add(new Hostile("left out", List.of()));
    all.add(new Hostile("three times", List.of("a", "b", "%3Cscript%3Ewindow.__ran%3D1%3C%2Fscript%3E")));
    add(all, "SQL", "'; drop table person; --");
    add(all, "a picture that fails", "</textarea></title><img src=x onerror=window.__ran=1>");
    raw(all, "a broken escape", "%zz%");
    add(all, "a huge number", DIGITS);
    raw(all, "no UTF-8", "%FF%FE%C0%80");
    add(all, "a drawing", "<svg onload=window.__ran=1><animate onbegin=window.__ran=1></svg>");
    add(all, "a path", "../../../../../../etc/passwd");
    add(all, "lines of a header", "x\r\nSet-Cookie: ran=1\r\n\r\n<script>window.__ran=1</script>");
    add(all, "a template", "{{ 1234 * 5678 }}${1234*5678}{% include 'layout' %}");
    add(all, "an id of a person", DemoProgramme.id("Orla Benedek").toString());
    add(all, "nothing", "");
    add(all, "below zero", "-1");
    add(all, "beyond an int", "2147483648");
    add(all, "beyond a double", "1e999");
    add(all, "a day that is none", "2026-02-30");
    add(all, "the year nought", "0000-01-01");
    add(all, "the earliest day", "-999999999-01-01");
    add(all, "writing turned round", "\u202Eabc\u2066\u200B\uFEFF");
    add(all, "marks upon marks", "e" + "\u0301".repeat(3_000));
    add(all, "pictures for letters", "\uD83D\uDC69\u200D\uD83D\uDD27".repeat(60));
    add(all, "other digits", "\u0661\u0662\u0663");
    add(all, "a short id", "1-1-1-1-1");
    add(all, "a formula", "=cmd|' /C calc'!A0");
    add(all, "an address that runs", "javascript:window.__ran=1");
    add(all, "deep JSON", "[".repeat(50_000));
    add(all, "JSON", "{\"id\":null,\"response\":[],\"type\":1e999,\"\\u0000\":{}}");
    add(all, "JSON with NUL", "{\"id\":\"a\\u0000b\",\"rawId\":\"YQBi\",\"type\":\"public-key\",\"response\":{\"clientDataJSON\":"
        + "\"e30\",\"authenticatorData\":\"AA\",\"signature\":\"AA\",\"userHandle\":\"\\ud800\"}}");
    add(all, "256 letters", "b".repeat(256));
    add(all, "space alone", " \t\u00A0\u2028");
    return all;
  }

  private static void add(List<Hostile> all, String words, String value) {
    raw(all, words, URLEncoder.encode(value, StandardCharsets.UTF_8));
  }

  private static void raw(List<Hostile> all, String words, String encoded) {
    all.add(new Hostile(words, List.of(encoded)));
  }

  /** The body of a form in which this stands for one of its fields. */
  String in(Map<String, List<String>> fields, String field) {
    List<String> pairs = new ArrayList<>();
    fields.forEach((name, values) -> {
      if (!name.equals(field)) {
        values.forEach(v -> pairs.add(encode(name) + "=" + encode(v)));
      }
    });
    encoded.forEach(value -> pairs.add(encode(field) + "=" + value));
    return String.join("&", pairs);
  }

  static String encode(String text) {
    return URLEncoder.encode(text, StandardCharsets.UTF_8);
  }
}
