package ferrule.bench;

/**
 * A picture that belongs to a grade, by what cannot be swapped: the hash of its bytes.
 *
 * @param sha256 of the JPEG as we keep it, in hex
 * @param width in pixels
 * @param height in pixels
 */
public record GradePhoto(String sha256, int width, int height) {

  /** Checks the hash's form and that there is a picture. */
  public GradePhoto {
    if (!sha256.matches("[0-9a-f]{64}") || width < 1 || height < 1) {
      throw new IllegalArgumentException("a photo has a SHA-256 in hex, a width and a height; given: " + sha256);
    }
  }
}
