package ferrule.report;

import ferrule.drill.Scored;
import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.HexFormat;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/**
 * The figures of the questions of the cohorts that were looked at last. Placing all questions of 200 apprentices takes
 * seconds and follows from their answers alone, so it is kept under a fingerprint of these: one more answer, or one that is
 * regraded, and it is worked out anew. Safe for several threads; two who ask at once for what is not kept both work it out.
 */
final class KeptQuestions {

  private static final int MOST = 16;

  private final Map<String, Questions> kept = new LinkedHashMap<>(MOST, 0.75f, true);

  /** The figures of these answers, in the order in which they were given. */
  Questions of(List<Scored> answers) {
    String fingerprint = fingerprint(answers);
    Questions known;
    synchronized (kept) {
      known = kept.get(fingerprint);
    }
    return known != null ? known : keep(fingerprint, Questions.of(answers));
  }

  private Questions keep(String fingerprint, Questions questions) {
    synchronized (kept) {
      kept.put(fingerprint, questions);
      if (kept.size() > MOST) {
        kept.remove(kept.keySet().iterator().next());
      }
    }
    return questions;
  }

  private static String fingerprint(List<Scored> answers) {
    try {
      MessageDigest digest = MessageDigest.getInstance("SHA-256");
      answers.forEach(answer -> digest.update((answer + "\n").getBytes(StandardCharsets.UTF_8)));
      return HexFormat.of().formatHex(digest.digest());
    } catch (NoSuchAlgorithmException e) {
      throw new IllegalStateException("every Java has SHA-256", e);
    }
  }
}
