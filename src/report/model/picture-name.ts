/** Of the picture of `against_model`. */
export const MODEL_PICTURE = 'portrait-model';
