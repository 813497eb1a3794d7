package ferrule.curriculum;

import java.util.Set;

/**
 * What is left of a file when the pieces that cannot be read or break its schema are left out, so that the rest can
 * still be cross-checked in the same run.
 *
 * @param root a tree that keeps the schema
 * @param lostIds the ids that stand in the pieces left out: references to them are not dangling
 */
public record SoundPart(YamlNode root, Set<String> lostIds) {

  /** Copies the set. */
  public SoundPart {
    lostIds = Set.copyOf(lostIds);
  }
}
