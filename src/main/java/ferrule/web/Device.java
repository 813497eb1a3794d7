package ferrule.web;

import java.util.Map;

/** What a browser says that it is, in words for the person who uses it; a hint, never a proof. */
final class Device {

  // in this order: most browsers also name those that they resemble
  private static final Map<String, String> BROWSERS = ordered(
      "Edg", "Edge", "OPR/", "Opera", "SamsungBrowser", "Samsung Internet", "Firefox", "Firefox", "FxiOS", "Firefox",
      "CriOS", "Chrome", "Chromium", "Chromium", "Chrome", "Chrome", "Safari", "Safari");
  private static final Map<String, String> SYSTEMS = ordered(
      "iPhone", "an iPhone", "iPad", "an iPad", "Android", "Android", "CrOS", "ChromeOS", "Windows", "Windows",
      "Macintosh", "a Mac", "Linux", "Linux");

  private Device() {}

  private static Map<String, String> ordered(String... pairs) {
    Map<String, String> map = new java.util.LinkedHashMap<>();
    for (int i = 0; i < pairs.length; i += 2) {
      map.put(pairs[i], pairs[i + 1]);
    }
    return map;
  }

  /** Such as "Firefox on Linux". */
  static String words(String userAgent) {
    String said = userAgent == null ? "" : userAgent;
    return first(BROWSERS, said, "A browser") + " on " + first(SYSTEMS, said, "a device");
  }

  private static String first(Map<String, String> known, String said, String otherwise) {
    return known.entrySet().stream()
        .filter(e -> said.contains(e.getKey())).map(Map.Entry::getValue).findFirst().orElse(otherwise);
  }
}
